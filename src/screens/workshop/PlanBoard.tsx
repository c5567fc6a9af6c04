import { useRef, useState, type KeyboardEvent, type PointerEvent } from 'react';
import type { Outline } from '#catalogue';
import { Drawing } from '../plan/Drawing.tsx';
import '../plan/plan.css';
import { useText } from '../text/text.ts';
import type { Picked } from './Edit.tsx';
import type { Editing } from './useEditing.ts';

/** Plan units that an arrow key moves a station; with Shift, five times as far. */
const STEP = 1;

const KINDS = ['helicopter', 'aeroplane', 'glider', 'gyroplane', 'other'] as const;

/** The stations on the plan: dragged with a finger or the mouse, moved with the arrow keys. */
export function PlanBoard({
  outline,
  editing,
  picked,
  pick,
}: {
  outline: Outline;
  editing: Editing;
  picked: Picked;
  pick: (picked: Picked) => void;
}) {
  const t = useText();
  const svg = useRef<SVGSVGElement>(null);
  const [told, setTold] = useState('');
  const [drag, setDrag] = useState<{ station: number; x: number; y: number } | null>(null);
  const put = (station: number, x: number, y: number) => {
    const place = { x: within(x), y: within(y) };
    editing.edit([
      { do: 'set', path: ['stations', station, 'place', 'x'], value: place.x },
      { do: 'set', path: ['stations', station, 'place', 'y'], value: place.y },
    ]);
  };
  const point = (e: PointerEvent): { x: number; y: number } | null => {
    const matrix = svg.current?.getScreenCTM();
    if (matrix === null || matrix === undefined) return null;
    const { x, y } = new DOMPoint(e.clientX, e.clientY).matrixTransform(matrix.inverse());
    return { x: within(x), y: within(y) };
  };
  const keys = (e: KeyboardEvent, station: number, x: number, y: number) => {
    const by = STEP * (e.shiftKey ? 5 : 1);
    const to = { ArrowLeft: [-by, 0], ArrowRight: [by, 0], ArrowUp: [0, -by], ArrowDown: [0, by] }[
      e.key
    ];
    if (to === undefined) return;
    e.preventDefault();
    const [dx = 0, dy = 0] = to;
    put(station, x + dx, y + dy);
    setTold(
      t('shop-plan-moved', {
        name: outline.stations[station]?.name ?? '',
        x: within(x + dx),
        y: within(y + dy),
      }),
    );
  };
  return (
    <>
      <p className="unseen" role="status">
        {told}
      </p>
      <svg
        ref={svg}
        className="plan board"
        viewBox="-3 -3 106 106"
        role="group"
        aria-label={t('shop-plan')}
      >
        <Drawing kind={KINDS.find((k) => k === outline.kind) ?? 'other'} />
        {outline.stations.map((s, i) => {
          const at = drag?.station === i ? drag : s;
          return (
            <g
              key={s.id || i}
              role="button"
              tabIndex={0}
              aria-label={t('shop-plan-station', { n: i + 1, name: s.name, x: s.x, y: s.y })}
              className={`pin${picked.station === i ? ' picked' : ''}`}
              transform={`translate(${at.x} ${at.y})`}
              onKeyDown={(e) => {
                if (e.key === 'Enter' || e.key === ' ') {
                  e.preventDefault();
                  pick({ station: i, check: null });
                } else keys(e, i, s.x, s.y);
              }}
              onPointerDown={(e) => {
                e.currentTarget.setPointerCapture(e.pointerId);
                setDrag({ station: i, x: s.x, y: s.y });
              }}
              onPointerMove={(e) => {
                const to = point(e);
                if (drag !== null && to !== null) setDrag({ station: drag.station, ...to });
              }}
              onPointerUp={(e) => {
                const to = point(e);
                const far = to !== null && Math.hypot(to.x - s.x, to.y - s.y) >= STEP;
                if (drag !== null && far) put(i, to.x, to.y);
                else pick({ station: i, check: null });
                setDrag(null);
              }}
              onPointerCancel={() => setDrag(null)}
            >
              <circle className="touch" r="6" />
              <circle className="node" r="3.4" />
              <text y="0.15">{i + 1}</text>
            </g>
          );
        })}
      </svg>
    </>
  );
}

function within(v: number): number {
  return Math.round(Math.min(100, Math.max(0, v)));
}
