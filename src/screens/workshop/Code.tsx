import { useEffect } from 'react';
import { useLocation } from 'wouter';
import { Waiting } from '../parts/Frame.tsx';
import { useTell } from '../parts/Tell.tsx';
import { useText } from '../text/text.ts';
import type { Workshop } from './desk.ts';

/** A code was scanned: what it holds is read and waits for a yes. */
export function Code({ shop, code }: { shop: Workshop; code: string }) {
  const t = useText();
  const { tell } = useTell();
  const [, go] = useLocation();
  useEffect(() => {
    let still = true;
    void shop.takeCode(code).then((outcome) => {
      if (still) go(tell(outcome) ? '/workshop/offer' : '/workshop');
    });
    return () => {
      still = false;
    };
  }, [shop, code, go, tell]);
  return <Waiting what={t('shop-code-reading')} />;
}
