import type { Finding } from '#shared/coverage';
import { useHouse } from '../parts/house.ts';
import { useLive } from '../parts/live.ts';
import { Mark } from '../parts/Mark.tsx';
import { TakePicture } from '../parts/Pictures.tsx';
import { findingTitle, namesOf } from '../parts/words.ts';
import { PRACTICE, type LastHeard, type WalkView } from '../services.ts';
import { useText } from '../text/text.ts';
import { Partial } from './Ear.tsx';
import { exampleAt } from './example.ts';

/**
 * The way of the last words, down one line: heard, understood as, put there.
 * While a question has the floor it is the question that is read first.
 */
export function Said({ walk, small }: { walk: WalkView; small: boolean }) {
  const t = useText();
  const { last } = walk;
  const found = walk.coverage.findings.find((f) => f.id === last?.finding);
  const nothing = last === null ? undefined : NOTHING[last.sort];
  const example =
    last === null && walk.aircraft !== PRACTICE ? exampleAt(walk.catalogue, walk.coverage) : null;
  const speaking = useLive(useHouse().pulse).partial !== '';
  // Nothing to show, as on the first use, where the sentence to say stands above, large: no empty room.
  if (last === null && example === null && walk.unheard === undefined && !speaking) return null;
  return (
    <section className={`said${small ? ' is-small' : ''}`} aria-label={t('last-heard')}>
      {speaking ? (
        <Partial />
      ) : (
        <>
          {walk.unheard !== undefined ? (
            <p className="heard-nothing" role="status">
              {t('said-not-heard')}
            </p>
          ) : last === null ? (
            example !== null && <p className="quiet">{t('example', { ...example })}</p>
          ) : (
            <>
              <p className="words">{last.words}</p>
              {nothing !== undefined && (
                <p className="heard-nothing" role="status">
                  {t(nothing)}
                </p>
              )}
              <ul className={`made sort-${last.sort}`} aria-live="polite">
                {last.made.map((line, i) => (
                  <li key={`${last.event}-${i}`}>
                    <SortMark sort={last.sort} severity={found?.severity} />
                    {line}
                  </li>
                ))}
              </ul>
              <Put walk={walk} last={last} />
              <Photograph walk={walk} found={found} />
            </>
          )}
        </>
      )}
    </section>
  );
}

/** One touch to a picture of what was just found. */
function Photograph({ walk, found }: { walk: WalkView; found: Finding | undefined }) {
  const { pictures } = useHouse();
  const t = useText();
  if (pictures === undefined || found === undefined || found.settled === 'taken-back') return null;
  return (
    <TakePicture
      of={findingTitle(found, namesOf(walk.catalogue), t)}
      attach={(file) => pictures.attach(found.id, file)}
      kept={found.pictures?.length ?? 0}
      small
    />
  );
}

/** The stations whose checks the words were put to. */
function Put({ walk, last }: { walk: WalkView; last: LastHeard }) {
  const t = useText();
  const of = new Set(last.checks ?? []);
  const stations = walk.catalogue.stations.flatMap((s, i) =>
    s.checks.some((c) => of.has(c.id)) ? [{ station: s.name, number: i + 1 }] : [],
  );
  if (stations.length === 0) return null;
  return <p className="put small">{stations.map((s) => t('put-at', s)).join(', ')}</p>;
}

/** An utterance that gave nothing takes the place of the last success at once, and says so large. */
const NOTHING: Partial<Record<LastHeard['sort'], string>> = {
  'not-understood': 'said-not-heard',
  nothing: 'said-nothing',
};

function SortMark({
  sort,
  severity,
}: {
  sort: LastHeard['sort'];
  /** Of the finding that it made, so that it looks the same here as in every list. */
  severity: Finding['severity'] | undefined;
}) {
  if (sort === 'finding')
    return <Mark of="finding" {...(severity === undefined ? {} : { severity })} label="" />;
  if (sort === 'asked' || sort === 'not-understood') return <Mark of="question" label="" />;
  if (sort === 'counted') return <Mark of="spoken" label="" />;
  return <Mark of="set-aside" label="" />;
}
