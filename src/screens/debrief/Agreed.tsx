import type { Agreement } from '../services.ts';
import { useText } from '../text/text.ts';

/** Agreement of sheet and reviewer, with its interval; or how many marks are missing for one. */
export function AgreedWords({ agreement }: { agreement: Agreement }) {
  const t = useText();
  if (agreement.marked === 0) return <p className="quiet">{t('agreed-none')}</p>;
  const { kappa, interval, missing } = agreement;
  const said = [
    t('agreed', { checks: t('checks', { n: agreement.marked }), agreed: agreement.agreed }),
    ...(missing > 0 ? [t('agreed-missing', { n: missing })] : []),
  ];
  if (kappa !== null) {
    said.push(
      interval === null
        ? t('agreed-kappa', { kappa })
        : t('agreed-interval', { kappa, low: interval[0], high: interval[1] }),
    );
  }
  return <p>{said.join(' ')}</p>;
}
