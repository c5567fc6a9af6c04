import { useHouse } from '../parts/house.ts';
import { useLive } from '../parts/live.ts';
import { Mark } from '../parts/Mark.tsx';
import type { LastHeard } from '../services.ts';
import { Partial } from './Ear.tsx';

/** The last thing understood: the speaker's own words, and what was made of them. */
export function Said({ last }: { last: LastHeard | null }) {
  return (
    <section className="said" aria-label="Last heard">
      <PartialOr>
        {last === null ? (
          <p className="quiet">Say where you are and what you find: “cabin, doors good”.</p>
        ) : (
          <>
            <p className="words">{last.words}</p>
            {NOTHING[last.sort] !== undefined && (
              <p className="heard-nothing" role="status">
                {NOTHING[last.sort]}
              </p>
            )}
            <ul className={`made sort-${last.sort}`} aria-live="polite">
              {last.made.map((line, i) => (
                <li key={`${last.event}-${i}`}>
                  <SortMark sort={last.sort} />
                  {line}
                </li>
              ))}
            </ul>
          </>
        )}
      </PartialOr>
    </section>
  );
}

/** An utterance that gave nothing takes the place of the last success at once, and says so large. */
const NOTHING: Partial<Record<LastHeard['sort'], string>> = {
  'not-understood': 'Not heard, say again',
  nothing: 'Heard, nothing for the sheet',
};

function PartialOr({ children }: { children: React.ReactNode }) {
  const speaking = useLive(useHouse().pulse).partial !== '';
  return speaking ? <Partial /> : children;
}

function SortMark({ sort }: { sort: LastHeard['sort'] }) {
  if (sort === 'finding') return <Mark of="finding" label="" />;
  if (sort === 'asked' || sort === 'not-understood') return <Mark of="question" label="" />;
  if (sort === 'counted') return <Mark of="spoken" label="" />;
  return <Mark of="set-aside" label="" />;
}
