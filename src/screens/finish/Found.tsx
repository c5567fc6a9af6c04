import { useId, useState } from 'react';
import type { Finding, OpenItem } from '#shared/coverage';
import type { Severity } from '#shared/severity';
import { SEVERITIES } from '#shared/severity';
import { instancesOf } from '#shared/catalogue';
import { useHouse } from '../parts/house.ts';
import { useLive } from '../parts/live.ts';
import { Mark } from '../parts/Mark.tsx';
import { Pictures, TakePicture } from '../parts/Pictures.tsx';
import { useTell } from '../parts/Tell.tsx';
import { capital, findingTitle, findingWhat, namesOf, worstFirst } from '../parts/words.ts';
import type { WalkView } from '../services.ts';
import { useText } from '../text/text.ts';

/** What was found, worst first, and what has to be settled about it before the signature. */
export function Found({ walk }: { walk: WalkView }) {
  const t = useText();
  const names = namesOf(walk.catalogue);
  const { coverage } = walk;
  const found = worstFirst(coverage.findings.filter((f) => f.settled !== 'taken-back'));
  const items = coverage.open.filter((o) => o.finding !== null || o.question !== null);
  if (found.length + items.length === 0) return null;
  return (
    <section className="found-here" aria-labelledby="found">
      <h2 id="found">{t(found.length === 0 ? 'finish-no-finding' : 'sheet-findings')}</h2>
      {found.length > 0 && (
        <ul className="lines">
          {found.map((f) => {
            const item = items.find((o) => o.finding === f.id);
            return (
              <li key={f.id} className="found-one">
                <Mark of="finding" severity={f.severity} label="" />
                <div>
                  <p className="open-text">
                    <strong>{findingTitle(f, names, t)}</strong>
                    {f.severity !== null && `, ${t(`severity-${f.severity}`)}`}
                    {f.ratedOn !== undefined && `, ${t('sheet-from-before', { on: f.ratedOn })}`}
                  </p>
                  <p className="quiet">{findingWhat(f)}</p>
                  <Pictures pictures={f.pictures} of={findingTitle(f, names, t)} />
                  <Photograph finding={f} of={findingTitle(f, names, t)} />
                </div>
                {item !== undefined && <Settle item={item} walk={walk} />}
              </li>
            );
          })}
        </ul>
      )}
      <Questions walk={walk} items={items} />
    </section>
  );
}

/** A picture of it, from the camera or from a file. */
function Photograph({ finding, of }: { finding: Finding; of: string }) {
  const house = useHouse();
  const { pictures } = house;
  if (pictures === undefined) return null;
  return <TakePicture of={of} attach={(file) => pictures.attach(finding.id, file)} files />;
}

/** Questions that still wait, such as which of two was meant. */
function Questions({ walk, items }: { walk: WalkView; items: readonly OpenItem[] }) {
  const house = useHouse();
  const { tell } = useTell();
  const asked = items.flatMap((o) => walk.coverage.questions.filter((q) => q.id === o.question));
  if (asked.length === 0) return null;
  return (
    <ul className="lines">
      {asked.map((q) => (
        <li key={q.id} className="found-one">
          <Mark of="question" label="" />
          <p className="open-text">{capital(q.text)}</p>
          <div className="settle" role="group" aria-label={q.text}>
            {q.options.map((o, i) => (
              <button
                key={o.label}
                type="button"
                className="press"
                onClick={() => void house.answer(q.id, i).then(tell)}
              >
                {capital(o.label)}
              </button>
            ))}
          </div>
        </li>
      ))}
    </ul>
  );
}

function Settle({ item, walk }: { item: OpenItem; walk: WalkView }) {
  const house = useHouse();
  const { tell } = useTell();
  const t = useText();
  const { finding } = item;
  if (finding === null) return null;
  if (item.kind === 'finding-unplaced') return <Place statement={finding} walk={walk} />;
  return (
    <div className="settle" role="group" aria-label={t('finish-how-bad', { finding: item.text })}>
      {SEVERITIES.map((s: Severity) => (
        <button
          key={s}
          type="button"
          className="press"
          onClick={() => void house.rate(finding, s).then(tell)}
        >
          {capital(t(`severity-${s}`))}
        </button>
      ))}
    </div>
  );
}

/** Gives a finding its check by hand (R4). */
function Place({ statement, walk }: { statement: string; walk: WalkView }) {
  const house = useHouse();
  const settings = useLive(house.settings);
  const { tell } = useTell();
  const t = useText();
  const [check, setCheck] = useState('');
  const id = useId();
  const picked = namesOf(walk.catalogue).check.get(check);
  return (
    <div className="settle">
      <label className="unseen" htmlFor={id}>
        {t('finish-place-which')}
      </label>
      <select id={id} className="pick" value={check} onChange={(e) => setCheck(e.target.value)}>
        <option value="">{t('finish-place-which')}</option>
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
        {t('finish-place')}
      </button>
    </div>
  );
}
