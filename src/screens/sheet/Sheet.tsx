import { Link } from 'wouter';
import { CIRCUMSTANCE_WORDS } from '#shared/circumstance';
import type { Coverage } from '#shared/coverage';
import { Plan } from '../plan/Plan.tsx';
import { Waiting } from '../parts/Frame.tsx';
import { handOut } from '../parts/handOut.ts';
import { useHouse } from '../parts/house.ts';
import { useLive } from '../parts/live.ts';
import { Mark } from '../parts/Mark.tsx';
import { useTell } from '../parts/Tell.tsx';
import { headWords } from '../parts/WalkHead.tsx';
import { useRecord } from '../parts/useRecord.ts';
import { capital, countOf, many, namesOf } from '../parts/words.ts';
import type { Paper, WalkRecord } from '../services.ts';
import { Foot } from '../workshop/Foot.tsx';
import { ToldSum } from './Explained.tsx';
import { Findings } from './Findings.tsx';
import { Rows } from './Rows.tsx';
import { SaidBeside, SealDoubts } from './Seal.tsx';
import './sheet.css';
import './print.css';

const DECISIONS: Readonly<Record<string, string>> = {
  fly: 'to fly',
  defer: 'to defer',
  ground: 'to ground it',
  'hand-over': 'to hand over',
};

/** The coverage sheet: findings first, then every check in walking order. Never says airworthy (R9). */
export default function Sheet({ id }: { id: string }) {
  const opened = useRecord(id);
  if (opened.state === 'opening') return <Waiting what="Opening the walk …" />;
  if (opened.state === 'failed') return <p role="alert">{opened.error}</p>;
  return <Opened record={opened.record} />;
}

function Opened({ record }: { record: WalkRecord }) {
  const { catalogue, coverage } = record;
  const { paper } = useLive(useHouse().settings);
  const names = namesOf(catalogue);
  const unnamed = coverage.checks.filter((c) => c.standing === 'skipped' && c.required.today);
  return (
    <div className={`sheet on-${paper}`}>
      <header className="head sheet-head">
        <h1>{record.aircraft}</h1>
        <p>
          {headWords(record)}, {catalogue.name}
          {coverage.circumstances.length > 0 &&
            `, ${coverage.circumstances.map((c) => CIRCUMSTANCE_WORDS[c]).join(', ')}`}
        </p>
        <Summary coverage={coverage} />
        <ToldSum coverage={coverage} />
      </header>
      <Papers record={record} />
      <SealDoubts seal={record.seal} coverage={coverage} catalogue={catalogue} />
      <div className="two lean">
        <section className="sheet-findings">
          <h2>Findings</h2>
          <Findings catalogue={catalogue} findings={record.reviewed.findings} />
          {unnamed.length > 0 && (
            <>
              <h2>Skipped</h2>
              <ul className="skipped">
                {unnamed.map((c) => (
                  <li key={c.check}>
                    <Mark of="skipped" label="" />
                    <span>
                      {capital(names.check.get(c.check)?.name ?? c.check)}
                      <span className="quiet">
                        , {names.station.get(c.station)?.name ?? c.station}
                      </span>
                    </span>
                  </li>
                ))}
              </ul>
            </>
          )}
        </section>
        <figure className="sheet-plan">
          <Plan catalogue={catalogue} coverage={coverage} here={null} />
        </figure>
      </div>
      <Rows catalogue={catalogue} coverage={record.reviewed} />
      <Went coverage={coverage} />
      <SaidBeside seal={record.seal} />
      <footer className="sheet-foot">
        <Signed coverage={coverage} />
        <p className="small quiet">
          Talkround says what was and was not spoken for. Whether the aircraft is in condition for
          safe flight is for the pilot in command to determine (14 CFR 91.7).
          {record.seal !== null && ` ${record.seal.text}`}
        </p>
        <Foot catalogue={catalogue} edition={coverage.edition} />
        {catalogue.notice !== undefined && <p className="small quiet">{catalogue.notice}</p>}
      </footer>
    </div>
  );
}

function Summary({ coverage }: { coverage: Coverage }) {
  const count = countOf(coverage.checks);
  const by = (s: string) =>
    coverage.checks.filter((c) => c.standing === s && c.required.today).length;
  const rest = [
    { of: 'part' as const, n: by('part'), say: 'part spoken' },
    { of: 'question' as const, n: by('question'), say: 'in question' },
    { of: 'skipped' as const, n: by('skipped'), say: 'skipped' },
    { of: 'unspoken' as const, n: by('unspoken'), say: 'unspoken' },
    { of: 'set-aside' as const, n: by('set-aside'), say: 'set aside' },
  ].filter((r) => r.n > 0);
  return (
    <ul className="summary">
      <li>
        <Mark of="spoken" label="" />
        <span>
          <strong>{count.spoken}</strong> of {count.required} spoken for
        </span>
      </li>
      {rest.map((r) => (
        <li key={r.of}>
          <Mark of={r.of} label="" />
          <span>
            <strong>{r.n}</strong> {r.say}
          </span>
        </li>
      ))}
      {coverage.findings.length > 0 && (
        <li>
          <Mark of="finding" label="" />
          <span>
            <strong>{coverage.findings.length}</strong>{' '}
            {coverage.findings.length === 1 ? 'finding' : 'findings'}
          </span>
        </li>
      )}
    </ul>
  );
}

function Papers({ record }: { record: WalkRecord }) {
  const house = useHouse();
  const settings = useLive(house.settings);
  const { tell } = useTell();
  const give = async (kind: Paper, share: boolean) => {
    const outcome = await house.paper(record.id, kind);
    if (tell(outcome) && outcome.ok) await handOut(outcome.value.name, outcome.value.blob, share);
  };
  return (
    <div className="tools noprint">
      <button type="button" className="press" onClick={() => window.print()}>
        Print ({settings.paper === 'a4' ? 'A4' : 'Letter'})
      </button>
      <button type="button" className="press" onClick={() => void give('sheet-pdf', true)}>
        PDF
      </button>
      <button type="button" className="press" onClick={() => void give('form-pdf', true)}>
        Form to hand in
      </button>
      <button type="button" className="press" onClick={() => void give('sheet-csv', false)}>
        CSV
      </button>
      <button type="button" className="press" onClick={() => void give('sheet-json', false)}>
        JSON
      </button>
      <Link className="press" href={`/debrief/${record.id}`}>
        Debrief
      </Link>
    </div>
  );
}

function Went({ coverage }: { coverage: Coverage }) {
  // Of a walk that still goes on nobody can say how it went.
  const remarks = coverage.finished ? coverage.remarks : [];
  if (remarks.length === 0 && coverage.oddities.length === 0) return null;
  return (
    <section className="went">
      <h2>How the walk went</h2>
      <ul className="lines">
        {remarks.map((r, i) => (
          <li key={i}>{r.text}</li>
        ))}
        {coverage.oddities.map((o, i) => (
          <li key={`o${i}`}>{o.text}</li>
        ))}
      </ul>
    </section>
  );
}

function Signed({ coverage }: { coverage: Coverage }) {
  const { decision, signed } = coverage;
  const left = coverage.open.length;
  return (
    <dl className="signed">
      <dt>Decision</dt>
      <dd>
        {decision === null
          ? 'Not stated'
          : `${decision.by} decides ${DECISIONS[decision.decision] ?? decision.decision}` +
            (decision.authority === null ? '' : `, on the authority of ${decision.authority}`) +
            (decision.note === null ? '' : `. ${decision.note}`)}
      </dd>
      <dt>Signed</dt>
      <dd>
        {signed === null
          ? 'Not signed'
          : signed.name + (signed.certificate === null ? '' : `, ${signed.certificate}`)}
      </dd>
      {left > 0 && (
        <>
          <dt>Left open</dt>
          <dd>{many(left, 'item')}</dd>
        </>
      )}
    </dl>
  );
}
