import { useState } from 'react';
import { ONCE } from '#shared/catalogue';
import type { CheckCoverage, Finding } from '#shared/coverage';
import { useHouse } from '../parts/house.ts';
import { Mark } from '../parts/Mark.tsx';
import { Pictures, TakePicture } from '../parts/Pictures.tsx';
import { useTell } from '../parts/Tell.tsx';
import {
  capital,
  counts,
  findingTitle,
  findingWhat,
  isOpen,
  missingWords,
  namesOf,
} from '../parts/words.ts';
import type { WalkView } from '../services.ts';
import { useText } from '../text/text.ts';

/** More than this at once is not read at a glance, and leaves no room for what was done. */
const AT_A_GLANCE = 4;

/** What is left where the pilot stands, large, and what came of what was done there. */
export function Here({
  walk,
  fresh,
  pick,
}: {
  walk: WalkView;
  fresh: ReadonlySet<string>;
  pick: (check: CheckCoverage) => void;
}) {
  const t = useText();
  const today = walk.coverage.checks.filter(counts);
  const open = today.filter((c) => isOpen(c.standing));
  // What a finding demands stands first, so that it is never among the "more here" (R7).
  const rank = (c: CheckCoverage) => (c.required.by === 'follow-up' ? 0 : 1);
  const here = open.filter((c) => c.station === walk.station).sort((a, b) => rank(a) - rank(b));
  return (
    <>
      {open.length === 0 && <p className="all-said">{t('all-said')}</p>}
      {open.length > 0 && here.length === 0 && <Next walk={walk} open={open} />}
      {here.length > 0 && <Left walk={walk} here={here} pick={pick} />}
      <Done
        walk={walk}
        done={today.filter((c) => c.station === walk.station)}
        fresh={fresh}
        pick={pick}
      />
    </>
  );
}

/** Nothing is open here: the nearest station where something is, one touch away. */
function Next({ walk, open }: { walk: WalkView; open: readonly CheckCoverage[] }) {
  const house = useHouse();
  const { tell } = useTell();
  const t = useText();
  const [first] = open;
  if (first === undefined) return null;
  const station = namesOf(walk.catalogue).station.get(first.station)?.name ?? first.station;
  return (
    <button
      type="button"
      className="press next"
      onClick={() => void house.goTo(first.station).then(tell)}
    >
      {t(walk.station === null ? 'begin-at' : 'next-station', { station })}
    </button>
  );
}

function Left({
  walk,
  here,
  pick,
}: {
  walk: WalkView;
  here: readonly CheckCoverage[];
  pick: (check: CheckCoverage) => void;
}) {
  const t = useText();
  const [all, setAll] = useState<string | null>(null);
  const names = namesOf(walk.catalogue);
  // A row that says "1 more" takes the room of the one it hides.
  const most = here.length === AT_A_GLANCE + 1 ? here.length : AT_A_GLANCE;
  const rest = all === walk.station ? 0 : Math.max(0, here.length - most);
  return (
    <ul className="here" aria-label={t('left-here')}>
      {here.slice(0, here.length - rest).map((c) => {
        const check = names.check.get(c.check);
        const missing = c.standing === 'part' ? missingWords(c, check) : '';
        return (
          <li key={c.check}>
            <button type="button" onClick={() => pick(c)}>
              <Mark of={c.standing} />
              <span>
                {capital(check?.name ?? c.check)}
                {missing !== '' && <span className="missing">: {missing}</span>}
                {c.required.because !== null && (
                  <span
                    className={`because ${c.required.by === 'follow-up' ? 'is-follow-up' : 'small'}`}
                  >
                    {c.required.because}
                  </span>
                )}
              </span>
            </button>
          </li>
        );
      })}
      {rest > 0 && (
        <li>
          <button type="button" className="quiet" onClick={() => setAll(walk.station)}>
            {t('more-here', { n: rest })}
          </button>
        </li>
      )}
    </ul>
  );
}

/**
 * What was done here and what came of it: a finding as large as what is left,
 * what was good in a row of names.
 */
function Done({
  walk,
  done,
  fresh,
  pick,
}: {
  walk: WalkView;
  done: readonly CheckCoverage[];
  fresh: ReadonlySet<string>;
  pick: (check: CheckCoverage) => void;
}) {
  const t = useText();
  const names = namesOf(walk.catalogue);
  const found = findingsBy(walk.coverage.findings);
  const bad = done.filter((c) => found.has(c.check));
  const good = done.filter((c) => !isOpen(c.standing) && !found.has(c.check));
  const unplaced = walk.coverage.findings.filter(
    (f) => f.check === null && f.settled !== 'taken-back',
  );
  if (bad.length + good.length + unplaced.length === 0) return null;
  return (
    <section className="done" aria-label={t('done-here')}>
      {bad.length + unplaced.length > 0 && (
        <ul className="here found">
          {bad.map((c) => {
            const finding = found.get(c.check);
            return (
              <li key={c.check}>
                <button type="button" onClick={() => pick(c)}>
                  <Mark of="finding" severity={finding?.severity ?? null} />
                  <span>
                    {capital(names.check.get(c.check)?.name ?? c.check)}
                    {finding !== undefined && (
                      <span className="because outcome">
                        {[placesOf(finding), findingWhat(finding)].filter(Boolean).join(': ')},{' '}
                        {t(`severity-${finding.severity ?? 'none'}`)}
                        {finding.ratedOn !== undefined &&
                          `, ${t('sheet-from-before', { on: finding.ratedOn })}`}
                      </span>
                    )}
                  </span>
                </button>
                {walk.coverage.findings
                  .filter((f) => f.check === c.check && f.settled !== 'taken-back')
                  .map((f) => (
                    <Pictured
                      key={f.id}
                      finding={f}
                      of={findingTitle(f, names, t)}
                      // Of what was said last it stands beside the words, above.
                      take={f.id !== walk.last?.finding}
                    />
                  ))}
              </li>
            );
          })}
          {unplaced.map((f) => (
            <li key={f.id}>
              <p className="found-unplaced">
                <Mark of="finding" severity={f.severity} />
                {findingTitle(f, names, t)}
              </p>
              <Pictured
                finding={f}
                of={findingTitle(f, names, t)}
                take={f.id !== walk.last?.finding}
              />
            </li>
          ))}
        </ul>
      )}
      {good.length > 0 && (
        <ul className="well">
          {good.map((c) => (
            <li key={c.check} className={fresh.has(c.check) ? 'is-fresh' : undefined}>
              <Mark of={c.standing} />
              {names.check.get(c.check)?.name ?? c.check}
              {c.touched === true && <span className="quiet"> {t('by-touch')}</span>}
            </li>
          ))}
        </ul>
      )}
    </section>
  );
}

/** Its pictures, and one touch to the next. */
function Pictured({ finding, of, take }: { finding: Finding; of: string; take: boolean }) {
  const { pictures } = useHouse();
  if (pictures === undefined) return null;
  return (
    <div className="pictured">
      <Pictures pictures={finding.pictures} of={of} />
      {take && <TakePicture of={of} attach={(file) => pictures.attach(finding.id, file)} />}
    </div>
  );
}

function placesOf(finding: Finding): string {
  return finding.instances.filter((i) => i !== ONCE).join(', ');
}

/** The findings that count, by their check; of two at one check the first that was said. */
function findingsBy(findings: readonly Finding[]): ReadonlyMap<string, Finding> {
  const by = new Map<string, Finding>();
  for (const f of findings) {
    if (f.check !== null && f.settled !== 'taken-back' && !by.has(f.check)) by.set(f.check, f);
  }
  return by;
}
