import { useEffect, useState } from 'react';
import type { KeyView } from '../services.ts';
import { useText } from '../text/text.ts';
import { useHouse } from './house.ts';

/** A key to be compared: its words to be read out, and a code that any camera reads. */
export function KeyShown({ of }: { of: KeyView }) {
  return (
    <>
      <p className="key-words">{of.words}</p>
      <Code of={of} />
    </>
  );
}

/** Modules of quiet around a QR code (ISO/IEC 18004 asks for four). */
const QUIET = 4;

function Code({ of }: { of: KeyView }) {
  const house = useHouse();
  const t = useText();
  const [code, setCode] = useState<{ size: number; path: string } | null>(null);
  useEffect(() => {
    let wanted = true;
    void house.keyCode?.(of).then((outcome) => {
      if (wanted && outcome.ok) setCode(outcome.value);
    });
    return () => {
      wanted = false;
    };
  }, [house, of]);
  if (code === null) return null;
  const side = code.size + 2 * QUIET;
  return (
    <svg
      className="key-code"
      viewBox={`${-QUIET} ${-QUIET} ${side} ${side}`}
      role="img"
      aria-label={t('key-code', { words: of.words })}
    >
      <rect x={-QUIET} y={-QUIET} width={side} height={side} className="key-paper" />
      <path d={code.path} className="key-ink" />
    </svg>
  );
}
