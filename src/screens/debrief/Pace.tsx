import { scaleLinear } from 'd3-scale';
import type { WalkRecord } from '../services.ts';
import { clock } from '../parts/words.ts';
import { useText } from '../text/text.ts';

const ROW = 28;
const NAMES = 170;
const WIDTH = 720;

/** Seconds at each station, a dot for each walk, the newest filled. */
export function Pace({ records }: { records: readonly WalkRecord[] }) {
  const t = useText();
  const stations = records[0]?.catalogue.stations ?? [];
  const seconds = (r: WalkRecord, station: string) =>
    r.coverage.times.filter((x) => x.station === station).reduce((sum, x) => sum + x.seconds, 0);
  const most = Math.max(1, ...records.flatMap((r) => stations.map((s) => seconds(r, s.id))));
  const x = scaleLinear([0, most], [NAMES, WIDTH - 16]).nice();
  const height = stations.length * ROW + 26;
  const ticks = x.ticks(5);
  return (
    <div className="scroll" tabIndex={0} role="region" aria-label={t('pace-label')}>
      <svg
        className="chart"
        viewBox={`0 0 ${WIDTH} ${height}`}
        width={WIDTH}
        height={height}
        role="img"
        aria-label={t('pace-drawing', { n: records.length, most: clock(most) })}
      >
        {ticks.map((at) => (
          <g key={at}>
            <line className="grid" x1={x(at)} x2={x(at)} y1="0" y2={stations.length * ROW} />
            <text x={x(at)} y={height - 6} textAnchor="middle">
              {clock(at)}
            </text>
          </g>
        ))}
        {stations.map((s, i) => (
          <g key={s.id}>
            <text x="0" y={i * ROW + ROW / 2} dominantBaseline="central">
              {s.name.length > 24 ? `${s.name.slice(0, 23)}…` : s.name}
            </text>
            <line
              className="grid"
              x1={NAMES}
              x2={WIDTH - 16}
              y1={i * ROW + ROW / 2}
              y2={i * ROW + ROW / 2}
            />
            {records.map((r, k) => (
              <circle
                key={r.id}
                className={k === records.length - 1 ? 'dot new' : 'dot'}
                cx={x(seconds(r, s.id))}
                cy={i * ROW + ROW / 2}
                r="6"
              />
            ))}
          </g>
        ))}
      </svg>
    </div>
  );
}
