import { many } from '../parts/words.ts';
import type { Agreement } from '../services.ts';

/** Agreement of sheet and reviewer, with its interval; or how many marks are missing for one. */
export function AgreedWords({ agreement }: { agreement: Agreement }) {
  if (agreement.marked === 0) {
    return <p className="quiet">No reviewer has marked a check yet.</p>;
  }
  const { kappa, interval, missing } = agreement;
  return (
    <p>
      The reviewer marked {many(agreement.marked, 'check')}; the sheet agrees on {agreement.agreed}.
      {missing > 0 &&
        ` ${many(missing, 'mark')} more ${missing === 1 ? 'is' : 'are'} needed before agreement beyond chance can be told.`}
      {kappa !== null && ` Cohen’s kappa ${kappa.toFixed(2)}`}
      {kappa !== null &&
        interval !== null &&
        ` (95 % interval ${interval[0].toFixed(2)} to ${interval[1].toFixed(2)})`}
      {kappa !== null && '.'}
    </p>
  );
}
