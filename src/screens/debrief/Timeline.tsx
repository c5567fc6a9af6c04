import { memo, useEffect, useRef, useState, type KeyboardEvent, type PointerEvent } from 'react';
import { flushSync } from 'react-dom';
import type { Catalogue } from '#shared/catalogue';
import { clock } from '../parts/words.ts';
import { useText, type Text } from '../text/text.ts';
import { marksPath, runnerPath, tickEvery } from './axis.ts';
import { nearest, when, type Sort, type Talk } from './talk.ts';

export const LANE = 26;
const TOP = 22;
/** Room for the lanes on paper, CSS px: A4 less its margins (182 mm) at the print's zoom of 0.58, and a little less. */
const ON_PAPER = 1166;
const SORTS: readonly Sort[] = ['nothing', 'counted', 'question', 'finding'];

/**
 * The walk in time: stations as lanes, the walk as one line through them,
 * every utterance a mark. One slider for keyboard and screen reader.
 */
export function Timeline({
  catalogue,
  talk,
  at,
  pick,
  play,
}: {
  catalogue: Catalogue;
  talk: Talk;
  /** Position of the picked utterance; -1 for none. */
  at: number;
  pick: (position: number) => void;
  play: () => void;
}) {
  const t = useText();
  const box = useRef<HTMLDivElement>(null);
  const [onScreen, setRoom] = useState(800);
  const [zoomed, setZoom] = useState(1);
  const printing = usePrinting();
  const room = printing ? ON_PAPER : onScreen;
  const zoom = printing ? 1 : zoomed;
  useEffect(() => {
    const element = box.current;
    if (element === null) return undefined;
    const watch = new ResizeObserver(() => setRoom(element.clientWidth));
    watch.observe(element);
    return () => watch.disconnect();
  }, []);
  const gutter = room < 640 ? 30 : 168;
  const width = Math.max(200, room - gutter - 12) * zoom;
  const height = TOP + catalogue.stations.length * LANE + 8;
  const perSecond = width / talk.seconds;
  const now = talk.utterances[at];
  const last = talk.utterances.length - 1;
  const keys = (event: KeyboardEvent) => {
    const to = {
      ArrowRight: at + 1,
      ArrowLeft: at - 1,
      ArrowUp: at - 1,
      ArrowDown: at + 1,
      PageDown: at + 10,
      PageUp: at - 10,
      Home: 0,
      End: last,
    }[event.key];
    if (to !== undefined) {
      event.preventDefault();
      pick(Math.max(0, Math.min(last, to)));
    } else if (event.key === 'Enter' || event.key === ' ') {
      event.preventDefault();
      play();
    }
  };
  const point = (event: PointerEvent<SVGSVGElement>) => {
    const x = event.clientX - event.currentTarget.getBoundingClientRect().left;
    pick(nearest(talk.utterances, x / perSecond));
  };
  return (
    <div className="timeline">
      <div className="lanes" ref={box}>
        <ol className="lane-names" aria-hidden="true">
          {catalogue.stations.map((s, i) => (
            <li key={s.id}>
              <span className="number">{i + 1}</span> <span>{gutter > 100 ? s.name : ''}</span>
            </li>
          ))}
        </ol>
        <div className="lane-scroll">
          <svg
            width={width}
            height={height}
            viewBox={`0 0 ${width} ${height}`}
            role="slider"
            tabIndex={0}
            aria-label={t('time-line')}
            aria-valuemin={last < 0 ? 0 : 1}
            aria-valuemax={last + 1}
            aria-valuenow={at + 1}
            aria-valuetext={
              now === undefined ? t('time-none') : `${when(talk, now.from)}: ${now.heard.text}`
            }
            onKeyDown={keys}
            onPointerDown={point}
          >
            <Field catalogue={catalogue} talk={talk} width={width} perSecond={perSecond} />
            {now !== undefined && (
              <g className="cursor">
                <line
                  x1={now.from * perSecond}
                  x2={now.from * perSecond}
                  y1={TOP - 8}
                  y2={height}
                />
                <path d={`M${now.from * perSecond - 6} ${TOP - 14}h12l-6 8z`} />
              </g>
            )}
          </svg>
        </div>
      </div>
      <div className="timeline-tools">
        <Key />
        <div className="tools noprint" role="group" aria-label={t('time-axis')}>
          {[1, 4, 16].map((z) => (
            <button
              key={z}
              type="button"
              className="press"
              aria-pressed={zoom === z}
              onClick={() => setZoom(z)}
            >
              {z === 1 ? t('time-whole') : t('time-times', { n: z })}
            </button>
          ))}
        </div>
      </div>
    </div>
  );
}

/** Everything that does not move with the cursor: drawn once, whatever the number of utterances. */
const Field = memo(function Field({
  catalogue,
  talk,
  width,
  perSecond,
}: {
  catalogue: Catalogue;
  talk: Talk;
  width: number;
  perSecond: number;
}) {
  const t = useText();
  const lane = new Map(catalogue.stations.map((s, i) => [s.id, TOP + i * LANE + LANE / 2]));
  const bottom = TOP + catalogue.stations.length * LANE;
  const step = tickEvery(perSecond);
  const ticks = Array.from({ length: Math.floor(talk.seconds / step) + 1 }, (_, i) => i * step);
  return (
    <g>
      {catalogue.stations.map((s, i) => (
        <line
          key={s.id}
          className="lane"
          x1="0"
          x2={width}
          y1={TOP + (i + 1) * LANE}
          y2={TOP + (i + 1) * LANE}
        />
      ))}
      {ticks.map((at) => (
        <g key={at} className="tick-at">
          <line x1={at * perSecond} x2={at * perSecond} y1={TOP - 6} y2={bottom} />
          <text x={at * perSecond + 3} y="11">
            {when(talk, at)}
          </text>
        </g>
      ))}
      {talk.silences.map((s) => (
        <rect
          key={`s${s.from}`}
          className="silence"
          x={s.from * perSecond}
          y={TOP}
          width={Math.max(2, (s.to - s.from) * perSecond)}
          height={bottom - TOP}
        >
          <title>{t.said(s.text)}</title>
        </rect>
      ))}
      {talk.holds.map((h) => (
        <g key={`h${h.from}`} className="hold">
          <rect
            x={h.from * perSecond}
            y={TOP}
            width={Math.max(2, (h.to - h.from) * perSecond)}
            height={bottom - TOP}
          >
            <title>{t.said(h.text)}</title>
          </rect>
          <line x1={h.from * perSecond} x2={h.from * perSecond} y1={TOP} y2={bottom} />
          <line x1={h.to * perSecond} x2={h.to * perSecond} y1={TOP} y2={bottom} />
        </g>
      ))}
      <path className="runner" d={runnerPath(talk.stays, lane, perSecond)} />
      {SORTS.map((sort) => (
        <path
          key={sort}
          className={`said is-${sort}`}
          d={marksPath(talk.utterances, sort, lane, perSecond, TOP + LANE / 2)}
        />
      ))}
    </g>
  );
});

function Key() {
  const t = useText();
  return (
    <ul className="key small">
      {(
        [
          ['counted', 'time-counted'],
          ['nothing', 'time-nothing'],
          ['question', 'time-question'],
          ['finding', 'time-finding'],
        ] as const
      ).map(([sort, name]) => (
        <li key={sort}>
          <svg viewBox="0 0 18 18" aria-hidden="true">
            <path
              className={`said is-${sort}`}
              d={marksPath([KEYED[sort]], sort, KEY_LANE, 1, 9)}
            />
          </svg>
          {t(name)}
        </li>
      ))}
      <li>
        <svg viewBox="0 0 18 18" aria-hidden="true">
          <rect className="hold-key" x="3" y="1" width="12" height="16" />
        </svg>
        {t('time-hold')}
      </li>
      <li>
        <svg viewBox="0 0 18 18" aria-hidden="true">
          <rect className="silence" x="3" y="1" width="12" height="16" />
        </svg>
        {t('time-silence')}
      </li>
    </ul>
  );
}

const KEY_LANE: ReadonlyMap<string, number> = new Map();
const KEYED = Object.fromEntries(
  SORTS.map((sort) => [sort, { from: 7, to: 11, sort, station: null }]),
) as Record<Sort, { from: number; to: number; sort: Sort; station: null }>;

/** The sentence above the drawing. */
export function talkWords(talk: Talk, t: Text): string {
  const utterances = t('utterances', { n: talk.utterances.length });
  if (!talk.timed) return t('time-unknown', { utterances });
  return t('time-sum', {
    length: clock(talk.seconds),
    utterances,
    holds: t('time-holds', { n: talk.holds.length }),
    silences: t('time-silences', { n: talk.silences.length }),
  });
}

/** On paper nothing scrolls: the whole walk has to be drawn in the room that the page has. */
function usePrinting(): boolean {
  const [printing, setPrinting] = useState(false);
  useEffect(() => {
    const before = () => flushSync(() => setPrinting(true));
    const after = () => setPrinting(false);
    window.addEventListener('beforeprint', before);
    window.addEventListener('afterprint', after);
    return () => {
      window.removeEventListener('beforeprint', before);
      window.removeEventListener('afterprint', after);
    };
  }, []);
  return printing;
}
