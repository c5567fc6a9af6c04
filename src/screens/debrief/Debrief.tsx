import { useEffect, useMemo, useState, type CSSProperties } from 'react';
import { Link } from 'wouter';
import type { Coverage } from '#shared/coverage';
import { Plan } from '../plan/Plan.tsx';
import { Waiting } from '../parts/Frame.tsx';
import { handOut } from '../parts/handOut.ts';
import { useHouse } from '../parts/house.ts';
import { useLive } from '../parts/live.ts';
import { useTell } from '../parts/Tell.tsx';
import { headWords } from '../parts/WalkHead.tsx';
import { useRecord } from '../parts/useRecord.ts';
import { counts, namesOf, type Names } from '../parts/words.ts';
import type { WalkRecord } from '../services.ts';
import { useText, type Text } from '../text/text.ts';
import { Findings } from '../sheet/Findings.tsx';
import { AgreedWords } from './Agreed.tsx';
import { CheckWords } from './CheckWords.tsx';
import { CorrectReading, CorrectStanding } from './Correct.tsx';
import { printFit } from './one-page.ts';
import { PassedOver } from './PassedOver.tsx';
import { ReadAgain } from './ReadAgain.tsx';
import { Table } from './Table.tsx';
import { Taught } from './Taught.tsx';
import { talkOf, type Talk } from './talk.ts';
import { talkWords, Timeline } from './Timeline.tsx';
import { playUtterance, PlayWalk, Words } from './Words.tsx';
import '../sheet/sheet.css';
import './debrief.css';
import './print.css';

/** Instructor and student going through a finished walk. */
export default function Debrief({ id }: { id: string }) {
  const t = useText();
  const opened = useRecord(id);
  if (opened.state === 'opening') return <Waiting what={t('sheet-opening')} />;
  if (opened.state === 'failed') return <p role="alert">{t.said(opened.error)}</p>;
  return <Opened record={opened.record} put={opened.put} />;
}

function Opened({ record, put }: { record: WalkRecord; put: (record: WalkRecord) => void }) {
  const t = useText();
  const house = useHouse();
  const { tell } = useTell();
  const settings = useLive(house.settings);
  // The reviewer's standings stand beside the sheet's own, which they never change.
  const { catalogue, reviewed: coverage, events } = record;
  const names = namesOf(catalogue);
  const talk = useMemo(() => talkOf(catalogue, events, coverage), [catalogue, events, coverage]);
  const fit = useMemo(() => printFit(catalogue, coverage, t), [catalogue, coverage, t]);
  const agreement = useMemo(() => house.agreement(record), [house, record]);
  const [at, setAt] = useState(-1);
  const [picked, setPicked] = useState<string | null>(() => firstOpen(coverage));
  /** On a phone: the detail stands in the place of the list, one at a time. */
  const [detail, setDetail] = useState(false);
  const [by, setBy] = useState(settings.pilot);
  usePlace(talk, setAt);
  const utterance = talk.utterances[at];
  const check = coverage.checks.find((c) => c.check === picked);
  const play = () => {
    if (utterance !== undefined) void playUtterance(house, utterance, t).then(tell);
  };
  const give = async (kind: 'debrief-pdf' | 'debrief-html') => {
    const outcome = await house.paper(record.id, kind);
    if (tell(outcome) && outcome.ok) await handOut(outcome.value.name, outcome.value.blob, true);
  };
  return (
    <div className="debrief" style={{ '--fit': fit } as CSSProperties}>
      <header className="head">
        <p className="quiet">
          {t('debrief-head', { head: headWords(record, t), catalogue: catalogue.name })}
        </p>
        <h1>{headline(coverage, names, t)}</h1>
        <StudentLink record={record} />
      </header>
      <div className="two">
        <figure className="debrief-plan">
          <Plan catalogue={catalogue} coverage={coverage} flags />
        </figure>
        <section className="debrief-found">
          <h2>{t('sheet-findings')}</h2>
          <Findings catalogue={catalogue} findings={coverage.findings} />
          {coverage.finished && coverage.remarks.length > 0 && (
            <>
              <h2>{t('sheet-went')}</h2>
              <ul className="lines remarks">
                {coverage.remarks.map((r, i) => (
                  <li key={i}>{t.said(r.text)}</li>
                ))}
              </ul>
            </>
          )}
        </section>
      </div>
      <Taught catalogue={catalogue} coverage={coverage} />
      <PassedOver talk={talk} pick={setAt} />
      <section aria-labelledby="in-time">
        <h2 id="in-time">{t('debrief-in-time')}</h2>
        <p className="quiet">{talkWords(talk, t)}</p>
        <Timeline catalogue={catalogue} talk={talk} at={at} pick={setAt} play={play} />
        <PlayWalk talk={talk} />
        <div className="two lean noprint">
          <Words talk={talk} at={at} pick={setAt} names={names} />
          {utterance === undefined ? (
            <p className="quiet">{t('debrief-pick')}</p>
          ) : (
            <CorrectReading
              key={utterance.event}
              utterance={utterance}
              record={record}
              by={by}
              put={put}
            />
          )}
        </div>
      </section>
      <section aria-labelledby="by-check">
        <h2 id="by-check">{t('debrief-by-check')}</h2>
        <AgreedWords agreement={agreement} />
        <label className="field reviewer noprint">
          <span>{t('debrief-who')}</span>
          <input value={by} autoComplete="name" onChange={(e) => setBy(e.target.value)} />
        </label>
        <div className={`two list-detail${detail ? ' at-detail' : ''}`}>
          <Table
            catalogue={catalogue}
            coverage={coverage}
            picked={picked}
            pick={(of) => {
              setPicked(of);
              setDetail(true);
            }}
          />
          {check !== undefined && (
            <div className="check-side noprint">
              <button type="button" className="press to-list" onClick={() => setDetail(false)}>
                {t('debrief-to-list')}
              </button>
              <CheckWords catalogue={catalogue} coverage={check} talk={talk} />
              <CorrectStanding
                key={check.check}
                coverage={check}
                record={record}
                by={by.trim()}
                put={put}
              />
            </div>
          )}
        </div>
      </section>
      <ReadAgain record={record} />
      <div className="tools noprint">
        <button type="button" className="press" onClick={() => window.print()}>
          {t('debrief-print')}
        </button>
        <button type="button" className="press" onClick={() => void give('debrief-pdf')}>
          {t('sheet-pdf')}
        </button>
        <button type="button" className="press" onClick={() => void give('debrief-html')}>
          {t('debrief-as-html')}
        </button>
      </div>
    </div>
  );
}

function StudentLink({ record }: { record: WalkRecord }) {
  const t = useText();
  const begun = record.events.find((e) => e.what.kind === 'walk-begun')?.what;
  if (begun?.kind !== 'walk-begun' || begun.pilot === null) return null;
  return (
    <p className="noprint">
      <Link className="press" href={`/student/${encodeURIComponent(begun.pilot)}`}>
        {t('debrief-student', { name: begun.pilot })}
      </Link>
    </p>
  );
}

function firstOpen(coverage: Coverage): string | null {
  const first = coverage.checks.find(
    (c) => c.required.today && c.standing !== 'spoken' && c.standing !== 'set-aside',
  );
  return first?.check ?? coverage.checks.find(counts)?.check ?? null;
}

/** At most this many names fit in a headline. */
const NAMED = 3;

/** The one sentence an instructor came for: what was skipped. */
function headline(coverage: Coverage, names: Names, t: Text): string {
  const required = coverage.checks.filter((c) => c.required.today);
  const gone = required.filter((c) => c.standing === 'skipped' || c.standing === 'unspoken');
  const rest = required.filter((c) => c.standing === 'part' || c.standing === 'question');
  if (gone.length === 0 && rest.length === 0) {
    return t('debrief-all', { n: required.length });
  }
  const name = (c: (typeof required)[number]) => names.check.get(c.check)?.name ?? c.check;
  const of = gone.length > 0 ? gone : rest;
  const named = of.slice(0, NAMED).map(name).join(', ');
  const more = of.length - NAMED;
  const list = more > 0 ? t('debrief-more', { list: named, n: more }) : named;
  const values = { n: of.length, required: required.length, list };
  if (gone.length === 0) return t('debrief-half', values);
  return t(coverage.finished ? 'debrief-skipped' : 'debrief-unspoken', values);
}

/** While the walk plays, the utterance that sounds is the picked one. */
function usePlace(talk: Talk, pick: (position: number) => void) {
  const { player } = useHouse();
  useEffect(() => {
    let last = -1;
    return player.at.subscribe(() => {
      const now = player.at.get();
      if (now === null) return;
      const sounding = talk.utterances.findLastIndex(
        ({ heard: { sound } }) =>
          sound !== null && sound.recording === now.recording && sound.from <= now.seconds,
      );
      if (sounding >= 0 && sounding !== last) pick(sounding);
      last = sounding;
    });
  }, [player, talk, pick]);
  // Nobody hears a walk that is not on the screen any more.
  useEffect(() => () => player.stop(), [player]);
}
