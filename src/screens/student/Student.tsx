import { useEffect, useMemo, useState } from 'react';
import { Link } from 'wouter';
import { studentOf } from '#reconcile';
import { toldCount } from '#shared/told';
import { AgreedWords } from '../debrief/Agreed.tsx';
import { Waiting } from '../parts/Frame.tsx';
import { useHouse } from '../parts/house.ts';
import { useLive } from '../parts/live.ts';
import { capital, countOf, dateTime, namesOf } from '../parts/words.ts';
import type { WalkRecord } from '../services.ts';
import { useText } from '../text/text.ts';
import '../walks/walks.css';

/** One person's name, however it was typed. */
const isNamed = (pilot: string | null, name: string): boolean =>
  (pilot ?? '').trim().toLowerCase() === name.trim().toLowerCase();

/** As many walks are looked at: habits change, and each walk costs a fold. */
const LATEST = 20;

/** All walks of one student: what is left out again and again, and the next lesson's points. */
export default function Student({ name }: { name: string }) {
  const house = useHouse();
  const t = useText();
  const walks = useLive(house.walks);
  const mine = walks.filter((w) => isNamed(w.pilot, name));
  const ids = mine
    .slice(0, LATEST)
    .map((w) => w.id)
    .join(',');
  const [records, setRecords] = useState<readonly WalkRecord[] | null>(null);
  useEffect(() => {
    let still = true;
    const wanted = ids === '' ? [] : ids.split(',');
    void Promise.all(wanted.map((id) => house.open(id))).then((all) => {
      if (still) setRecords(all.flatMap((o) => (o.ok ? [o.value] : [])));
    });
    return () => {
      still = false;
    };
  }, [house, ids]);
  if (records === null) return <Waiting what={t('walks-opening')} />;
  return (
    <div className="walks">
      <header className="head">
        <h1>{name}</h1>
        <p className="quiet">
          {mine.length > records.length
            ? t('student-latest', {
                walks: t('walks-count', { n: mine.length }),
                n: records.length,
              })
            : t('walks-count', { n: mine.length })}
        </p>
      </header>
      {records.length === 0 ? (
        <p>{t('student-none', { name })}</p>
      ) : (
        <>
          <Lesson records={records} />
          <section>
            <h2>{t('student-every')}</h2>
            <ul className="lines">
              {records.map((r) => (
                <li key={r.id}>
                  <Line record={r} />
                </li>
              ))}
            </ul>
          </section>
        </>
      )}
    </div>
  );
}

function Line({ record }: { record: WalkRecord }) {
  const house = useHouse();
  const t = useText();
  const { coverage } = record;
  const count = countOf(coverage.checks);
  const told = toldCount(coverage.checks);
  const agreement = useMemo(() => house.agreement(record), [house, record]);
  return (
    <div className="student-walk">
      <Link className="press" href={`/debrief/${record.id}`}>
        {`${dateTime(record.events[0]?.at ?? 0)}, ${record.aircraft}`}
      </Link>
      <span>
        {[
          t('student-spoken', { spoken: count.spoken, required: count.required }),
          ...(told.explained > 0
            ? [t('student-told', { explained: told.explained, reported: told.reported })]
            : []),
          ...(coverage.findings.length > 0 ? [t('findings', { n: coverage.findings.length })] : []),
        ].join('; ')}
      </span>
      <AgreedWords agreement={agreement} />
    </div>
  );
}

/** Of the catalogue that was walked last: checks of two catalogues are not compared. */
function Lesson({ records }: { records: readonly WalkRecord[] }) {
  const t = useText();
  const catalogue = records[0]?.catalogue;
  if (catalogue === undefined) return null;
  const same = records.filter((r) => r.catalogue.id === catalogue.id).reverse();
  const student = studentOf(
    same.map((r) => r.coverage),
    catalogue,
  );
  const names = namesOf(catalogue);
  return (
    <>
      <section>
        <h2>{t('student-next')}</h2>
        {student.points.length === 0 ? (
          <p>{t(same.length === 1 ? 'student-one' : 'student-no-habit')}</p>
        ) : (
          <ol>
            {student.points.map((p) => (
              <li key={p}>{t.said(p)}</li>
            ))}
          </ol>
        )}
      </section>
      {student.again.length > 0 && (
        <section>
          <h2>{t('student-again')}</h2>
          <p className="quiet">
            {t('student-of', {
              catalogue: catalogue.name,
              walks: t('walks-count', { n: same.length }),
            })}
          </p>
          <ul className="lines">
            {student.again.map((h) => (
              <li key={h.check}>
                {t('student-habit', {
                  check: capital(names.check.get(h.check)?.name ?? h.check),
                  open: h.open,
                  of: h.of,
                  explained: h.explained,
                  reported: h.reported,
                })}
              </li>
            ))}
          </ul>
        </section>
      )}
    </>
  );
}
