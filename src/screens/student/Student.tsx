import { useEffect, useMemo, useState } from 'react';
import { Link } from 'wouter';
import { studentOf } from '#reconcile';
import { toldCount } from '#shared/told';
import { AgreedWords } from '../debrief/Agreed.tsx';
import { Waiting } from '../parts/Frame.tsx';
import { useHouse } from '../parts/house.ts';
import { useLive } from '../parts/live.ts';
import { capital, countOf, dateTime, many, namesOf } from '../parts/words.ts';
import type { WalkRecord } from '../services.ts';
import '../walks/walks.css';

/** One person's name, however it was typed. */
const isNamed = (pilot: string | null, name: string): boolean =>
  (pilot ?? '').trim().toLowerCase() === name.trim().toLowerCase();

/** As many walks are looked at: habits change, and each walk costs a fold. */
const LATEST = 20;

/** All walks of one student: what is left out again and again, and the next lesson's points. */
export default function Student({ name }: { name: string }) {
  const house = useHouse();
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
  if (records === null) return <Waiting what="Opening the walks …" />;
  return (
    <div className="walks">
      <header className="head">
        <h1>{name}</h1>
        <p className="quiet">
          {many(mine.length, 'walk')}
          {mine.length > records.length && `, the latest ${records.length} of them here`}
        </p>
      </header>
      {records.length === 0 ? (
        <p>No walk of {name} is kept on this device.</p>
      ) : (
        <>
          <Lesson records={records} />
          <section>
            <h2>Every walk, latest first</h2>
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
        {count.spoken} of {count.required} spoken for
        {told.explained > 0 && `; ${told.explained} explained, ${told.reported} reported`}
        {coverage.findings.length > 0 && `; ${many(coverage.findings.length, 'finding')}`}
      </span>
      <AgreedWords agreement={agreement} />
    </div>
  );
}

/** Of the catalogue that was walked last: checks of two catalogues are not compared. */
function Lesson({ records }: { records: readonly WalkRecord[] }) {
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
        <h2>For the next lesson</h2>
        {student.points.length === 0 ? (
          <p>
            {same.length === 1
              ? 'One walk shows no habit yet.'
              : 'Nothing was left open more than once.'}
          </p>
        ) : (
          <ol>
            {student.points.map((p) => (
              <li key={p}>{p}</li>
            ))}
          </ol>
        )}
      </section>
      {student.again.length > 0 && (
        <section>
          <h2>Left open again and again</h2>
          <p className="quiet">
            {catalogue.name}, {many(same.length, 'walk')}.
          </p>
          <ul className="lines">
            {student.again.map((h) => (
              <li key={h.check}>
                {capital(names.check.get(h.check)?.name ?? h.check)}: open on {h.open} of {h.of},
                explained on {h.explained}, reported on {h.reported}
              </li>
            ))}
          </ul>
        </section>
      )}
    </>
  );
}
