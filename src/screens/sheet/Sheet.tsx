import { useLocation } from 'wouter';
import { countOf, findingCounts } from '#shared/counts';
import type { Coverage } from '#shared/coverage';
import { Plan } from '../plan/Plan.tsx';
import { Waiting } from '../parts/Frame.tsx';
import { useHouse } from '../parts/house.ts';
import { useLive } from '../parts/live.ts';
import { Mark } from '../parts/Mark.tsx';
import { useTell } from '../parts/Tell.tsx';
import { whoWords } from '../parts/WalkHead.tsx';
import { useRecord } from '../parts/useRecord.ts';
import { capital, namesOf } from '../parts/words.ts';
import type { WalkRecord } from '../services.ts';
import { useText } from '../text/text.ts';
import { Foot } from '../workshop/Foot.tsx';
import { Amend } from './Amend.tsx';
import { ToldSum } from './Explained.tsx';
import { Findings } from './Findings.tsx';
import { Papers } from './Papers.tsx';
import { Rows } from './Rows.tsx';
import { SaidBeside, SealDoubts } from './Seal.tsx';
import { Shared } from './Shared.tsx';
import { Summary } from './Summary.tsx';
import './sheet.css';
import './print.css';

/** The coverage sheet: findings first, then every check in walking order. Never says airworthy (R9). */
export default function Sheet({ id }: { id: string }) {
  const opened = useRecord(id);
  const t = useText();
  if (opened.state === 'opening') return <Waiting what={t('sheet-opening')} />;
  if (opened.state === 'failed') return <p role="alert">{opened.error}</p>;
  return <Opened record={opened.record} put={opened.put} />;
}

function Opened({ record, put }: { record: WalkRecord; put: (record: WalkRecord) => void }) {
  const { catalogue, coverage } = record;
  const { paper } = useLive(useHouse().settings);
  const t = useText();
  return (
    <div className={`sheet on-${paper}`}>
      <header className="head sheet-head">
        <h1>{record.aircraft}</h1>
        <p>
          {[
            ...whoWords(record, t),
            catalogue.name,
            ...coverage.circumstances.map((c) => t(`circumstance-${c}`)),
          ].join(', ')}
        </p>
        <Summary coverage={coverage} />
        <ToldSum coverage={coverage} />
      </header>
      <Unsigned record={record} />
      <Shared record={record} put={put} />
      <SealDoubts seal={record.seal} coverage={coverage} catalogue={catalogue} />
      <div className="two lean">
        <section className="sheet-findings">
          <h2>{t('sheet-findings')}</h2>
          <Findings catalogue={catalogue} findings={record.reviewed.findings} />
          <Skipped record={record} />
        </section>
        <figure className="sheet-plan">
          <Plan catalogue={catalogue} coverage={coverage} here={null} />
        </figure>
      </div>
      <Papers record={record} />
      <div className="sheet-stations">
        <Rows catalogue={catalogue} coverage={record.reviewed} />
      </div>
      <Went coverage={coverage} />
      <SaidBeside seal={record.seal} />
      <Amend record={record} put={put} />
      <footer className="sheet-foot">
        <Signed coverage={coverage} />
        <p className="small quiet">
          {t('sheet-foot')}
          {record.seal !== null && ` ${record.seal.text}`}
        </p>
        <Foot catalogue={catalogue} edition={coverage.edition} />
        {catalogue.notice !== undefined && <p className="small quiet">{catalogue.notice}</p>}
      </footer>
    </div>
  );
}

/** A walk that was finished and not signed is decided and signed from here; one thrown away says so. */
function Unsigned({ record: { id, coverage, devices } }: { record: WalkRecord }) {
  const house = useHouse();
  const { tell } = useTell();
  const t = useText();
  const [, go] = useLocation();
  const { discarded, finished, signed } = coverage;
  if (discarded !== undefined) {
    return (
      <p className="notice plain-told">
        {discarded.why === null
          ? t('sheet-discarded')
          : t('sheet-discarded-why', { why: discarded.why })}
      </p>
    );
  }
  // On a device that was let in: only the one that began the walk signs it.
  if (!finished || signed !== null || devices?.role === 'guest') return null;
  const sign = async () => {
    if (tell(await house.takeUp(id, 'quietly'))) go('/finish');
  };
  return (
    <div className="unsigned noprint">
      <p>{t('sheet-sign-note')}</p>
      <button type="button" className="press main" onClick={() => void sign()}>
        {t('sheet-sign')}
      </button>
    </div>
  );
}

function Skipped({ record: { catalogue, coverage } }: { record: WalkRecord }) {
  const t = useText();
  const names = namesOf(catalogue);
  const unnamed = coverage.checks.filter((c) => c.standing === 'skipped' && c.required.today);
  if (unnamed.length === 0) return null;
  return (
    <>
      <h2>{t('sheet-skipped')}</h2>
      <ul className="skipped">
        {unnamed.map((c) => (
          <li key={c.check}>
            <Mark of="skipped" label="" />
            <span>
              {capital(names.check.get(c.check)?.name ?? c.check)}
              <span className="quiet">, {names.station.get(c.station)?.name ?? c.station}</span>
            </span>
          </li>
        ))}
      </ul>
    </>
  );
}

function Went({ coverage }: { coverage: Coverage }) {
  const t = useText();
  // Of a walk that still goes on nobody can say how it went.
  const remarks = coverage.finished ? coverage.remarks : [];
  if (remarks.length === 0 && coverage.oddities.length === 0) return null;
  return (
    <section className="went">
      <h2>{t('sheet-went')}</h2>
      <ul className="lines">
        {remarks.map((r, i) => (
          <li key={i}>{t.said(r.text)}</li>
        ))}
        {coverage.oddities.map((o, i) => (
          <li key={`o${i}`}>{o.text}</li>
        ))}
      </ul>
    </section>
  );
}

function Signed({ coverage }: { coverage: Coverage }) {
  const t = useText();
  const { decision, signed } = coverage;
  const { open, touched } = countOf(coverage.checks);
  const { findings } = findingCounts(coverage);
  return (
    <dl className="signed">
      <dt>{t('sheet-decision')}</dt>
      <dd>
        {decision === null
          ? t('sheet-not-stated')
          : t(`sheet-decides-${decision.decision}`, { by: decision.by }) +
            (decision.authority === null
              ? ''
              : t('sheet-authority', { authority: decision.authority })) +
            (decision.note === null ? '' : `. ${decision.note}`)}
      </dd>
      <dt>{t('sheet-signed')}</dt>
      <dd>
        {signed === null
          ? t('sheet-not-signed')
          : signed.name + (signed.certificate === null ? '' : `, ${signed.certificate}`)}
      </dd>
      <dt>{t('sheet-left')}</dt>
      <dd>{open === 0 ? t('no-gap') : t('gaps', { n: open })}</dd>
      <dt>{t('sheet-findings')}</dt>
      <dd>{findings}</dd>
      {touched > 0 && (
        <>
          <dt>{t('sheet-by-touch')}</dt>
          <dd>{t('checks', { n: touched })}</dd>
        </>
      )}
    </dl>
  );
}
