import { useId, useState } from 'react';
import type { OpenItem } from '#shared/coverage';
import type { Severity } from '#shared/severity';
import { SEVERITIES, SEVERITY_WORDS } from '#shared/severity';
import { instancesOf } from '#shared/catalogue';
import { useHouse } from '../parts/house.ts';
import { useLive } from '../parts/live.ts';
import { Mark, type Shape } from '../parts/Mark.tsx';
import { useTell } from '../parts/Tell.tsx';
import { capital, namesOf } from '../parts/words.ts';
import type { WalkView } from '../services.ts';
import { CheckCard } from '../walk/CheckCard.tsx';

const SHAPES: Readonly<Record<OpenItem['kind'], Shape>> = {
  'finding-unplaced': 'finding',
  'finding-unrated': 'finding',
  question: 'question',
  part: 'part',
  unspoken: 'unspoken',
};

/** More than this is a list nobody reads; the rest is one touch away. */
const AT_FIRST = 40;

/** Everything that is open, in the order the reconciler gives: worst first. */
export function Open({ walk }: { walk: WalkView }) {
  const [all, setAll] = useState(false);
  const [picked, setPicked] = useState<string | null>(null);
  const items = all ? walk.coverage.open : walk.coverage.open.slice(0, AT_FIRST);
  const names = namesOf(walk.catalogue);
  const coverage = walk.coverage.checks.find((c) => c.check === picked);
  return (
    <>
      <ol className="open lines">
        {items.map((item, i) => (
          <li key={`${item.kind} ${item.check ?? ''} ${item.finding ?? ''} ${item.question ?? ''}`}>
            <Mark of={SHAPES[item.kind]} />
            <div>
              {item.check === null ? (
                <p className="open-text">{capital(item.text)}</p>
              ) : (
                <button type="button" className="open-text" onClick={() => setPicked(item.check)}>
                  {capital(item.text)}
                </button>
              )}
              {item.station !== null && item.station !== items[i - 1]?.station && (
                <p className="quiet small">{names.station.get(item.station)?.name}</p>
              )}
            </div>
            <Settle item={item} walk={walk} more={() => setPicked(item.check)} />
          </li>
        ))}
      </ol>
      {items.length < walk.coverage.open.length && (
        <button type="button" className="press" onClick={() => setAll(true)}>
          Show the other {walk.coverage.open.length - items.length}
        </button>
      )}
      {coverage !== undefined && (
        <CheckCard catalogue={walk.catalogue} coverage={coverage} close={() => setPicked(null)} />
      )}
    </>
  );
}

/** The one touch that settles it, by its kind. */
function Settle({ item, walk, more }: { item: OpenItem; walk: WalkView; more: () => void }) {
  const house = useHouse();
  const { tell } = useTell();
  const question = walk.coverage.questions.find((q) => q.id === item.question);
  const name = item.text;
  if (question !== undefined && question.options.length > 0) {
    return (
      <div className="settle" role="group" aria-label={question.text}>
        {question.options.map((o, i) => (
          <button
            key={o.label}
            type="button"
            className="press"
            onClick={() => void house.answer(question.id, i).then(tell)}
          >
            {capital(o.label)}
          </button>
        ))}
      </div>
    );
  }
  if (item.kind === 'finding-unplaced' && item.finding !== null) {
    return <Place statement={item.finding} walk={walk} />;
  }
  if (item.kind === 'finding-unrated' && item.finding !== null) {
    const finding = item.finding;
    return (
      <div className="settle" role="group" aria-label={`How bad: ${name}`}>
        {SEVERITIES.map((s: Severity) => (
          <button
            key={s}
            type="button"
            className="press"
            onClick={() => void house.rate(finding, s).then(tell)}
          >
            {capital(SEVERITY_WORDS[s])}
          </button>
        ))}
      </div>
    );
  }
  if (item.check === null) return null;
  const check = item.check;
  const measured = (namesOf(walk.catalogue).check.get(check)?.measures.length ?? 0) > 0;
  return (
    <div className="settle short">
      <button
        type="button"
        className="press"
        aria-label={measured ? `Give the value: ${name}` : `Good: ${name}`}
        onClick={measured ? more : () => void house.settle(check, 'good').then(tell)}
      >
        {measured ? 'Value' : 'Good'}
      </button>
    </div>
  );
}

/** Gives a finding its check by hand (R4). */
function Place({ statement, walk }: { statement: string; walk: WalkView }) {
  const house = useHouse();
  const settings = useLive(house.settings);
  const { tell } = useTell();
  const [check, setCheck] = useState('');
  const id = useId();
  const picked = namesOf(walk.catalogue).check.get(check);
  return (
    <div className="settle">
      <label className="unseen" htmlFor={id}>
        Which check is it about?
      </label>
      <select id={id} className="pick" value={check} onChange={(e) => setCheck(e.target.value)}>
        <option value="">Which check is it about?</option>
        {walk.catalogue.stations.map((s) => (
          <optgroup key={s.id} label={s.name}>
            {s.checks.map((c) => (
              <option key={c.id} value={c.id}>
                {c.name}
              </option>
            ))}
          </optgroup>
        ))}
      </select>
      <button
        type="button"
        className="press"
        disabled={picked === undefined}
        onClick={() => {
          if (picked === undefined) return;
          void house
            .placeFinding(statement, picked.id, instancesOf(picked), settings.pilot || 'pilot')
            .then(tell);
        }}
      >
        Place it
      </button>
    </div>
  );
}
