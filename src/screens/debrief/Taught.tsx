import { memo, useState } from 'react';
import type { Catalogue } from '#shared/catalogue';
import type { CheckCoverage, Coverage } from '#shared/coverage';
import { toldCount, toldIn } from '#shared/told';
import { byStation, capital, counts, namesOf } from '../parts/words.ts';
import { useText, type Text } from '../text/text.ts';
import { ToldMark, ToldOf, useToldSum } from '../sheet/Explained.tsx';

const CLASSES = ['explained', 'done', 'reported'] as const;
const KEY = {
  explained: 'taught-explained',
  done: 'taught-class-done',
  reported: 'taught-class-reported',
} as const;

/**
 * A lesson as a picture: for every check, in the order of the walk, whether it
 * was explained, done or reported. Nothing on a walk without talk.
 */
export const Taught = memo(function Taught({
  catalogue,
  coverage,
}: {
  catalogue: Catalogue;
  coverage: Coverage;
}) {
  const t = useText();
  const sentence = useToldSum(coverage);
  const [picked, setPicked] = useState<string | null>(null);
  if (sentence === null) return null;
  const groups = byStation(coverage);
  const names = namesOf(catalogue);
  const check = coverage.checks.find((c) => c.check === picked);
  return (
    <section aria-labelledby="taught" className="taught">
      <h2 id="taught">{t('taught')}</h2>
      <p>{sentence}</p>
      <p className="quiet small taught-key">
        {CLASSES.map((of) => (
          <span key={of}>
            <ToldMark of={of} /> {t(KEY[of])}
          </span>
        ))}
      </p>
      <ol className="taught-rows">
        {catalogue.stations.map((s) => {
          const checks = (groups.get(s.id) ?? []).filter(shown);
          if (checks.length === 0) return null;
          const count = toldCount(checks);
          return (
            <li key={s.id}>
              <h3>
                {s.name}
                <span className="quiet tally">
                  {' '}
                  {t('taught-count', {
                    explained: count.explained,
                    reported: count.reported,
                    checks: count.checks,
                  })}
                </span>
              </h3>
              <ul className="taught-cells">
                {checks.map((c) => {
                  const name = capital(names.check.get(c.check)?.name ?? c.check);
                  return (
                    <li key={c.check}>
                      <button
                        type="button"
                        className="taught-cell"
                        aria-pressed={picked === c.check}
                        aria-label={t('taught-of', { check: name, what: classesOf(c, t) })}
                        onClick={() => setPicked(picked === c.check ? null : c.check)}
                      >
                        <span className="taught-marks">
                          {CLASSES.map((of) =>
                            toldIn(c)[of].length === 0 ? (
                              <span key={of} className="taught-none" />
                            ) : (
                              <ToldMark key={of} of={of} />
                            ),
                          )}
                        </span>
                        <span className="small">{name}</span>
                      </button>
                      {check !== undefined && check.check === c.check && (
                        <ToldOf coverage={check} />
                      )}
                    </li>
                  );
                })}
              </ul>
            </li>
          );
        })}
      </ol>
    </section>
  );
});

function shown(c: CheckCoverage): boolean {
  return counts(c) || toldIn(c).explained.length > 0;
}

function classesOf(c: CheckCoverage, t: Text): string {
  const said = CLASSES.filter((of) => toldIn(c)[of].length > 0);
  return said.length === 0
    ? t('taught-nothing')
    : said.map((of) => t(`taught-class-${of}`)).join(', ');
}
