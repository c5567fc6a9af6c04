import { scaleLinear } from 'd3-scale';
import { line } from 'd3-shape';
import { unitSign } from '#shared/figures';
import type { TrendView } from '../services.ts';
import { dateTime } from '../parts/words.ts';
import { useText } from '../text/text.ts';

const W = 440;
const H = 220;
const PAD = { left: 64, right: 24, top: 16, bottom: 34 };
const DAY = 86_400_000;

/** One measured value over hours or days, with its limit and, where the data support one, its trend. */
export default function Trend({ trend }: { trend: TrendView }) {
  const t = useText();
  const first = trend.points[0]?.at ?? 0;
  const xOf = (p: TrendView['points'][number]) =>
    trend.over === 'hours' ? (p.hours ?? 0) : (p.at - first) / DAY;
  const xs = trend.points.map(xOf);
  const limits = [trend.limit.low, trend.limit.high].filter((l) => l !== null);
  const reach = trend.reaches === null ? [] : [trend.reaches.at, trend.reaches.to];
  const along = (v: number) =>
    trend.line === null ? [] : [trend.line.slope * v + trend.line.intercept];
  const ys = [...trend.points.map((p) => p.value), ...limits, ...reach.flatMap(along)];
  const x = scaleLinear(span([...xs, ...reach]), [PAD.left, W - PAD.right]);
  const y = scaleLinear(span(ys), [H - PAD.bottom, PAD.top]).nice();
  const unit = trend.unit === null ? '' : unitSign(trend.unit);
  // What is counted comes whole: there is no one and a half.
  const counted = trend.unit === null && trend.points.every((p) => Number.isInteger(p.value));
  const marked = (at: number) => !counted || Number.isInteger(at);
  // Days have dates, halves of days would have the same one twice.
  const dated = (at: number) => trend.over === 'hours' || Number.isInteger(at);
  const path = line<number>(
    (v) => x(v),
    (v) => y((trend.line?.slope ?? 0) * v + (trend.line?.intercept ?? 0)),
  );
  const [from, to] = x.domain();
  return (
    <figure className="trend">
      <figcaption>
        <h3>{trend.name}</h3>
        <p>{t.said(trend.text)}</p>
      </figcaption>
      <svg
        className="chart"
        viewBox={`0 0 ${W} ${H}`}
        role="img"
        aria-label={t('trend-label', {
          name: trend.name,
          values: trend.points
            .map((p) =>
              t('trend-value', {
                value: `${p.value} ${unit}`,
                day: dateTime(p.at).slice(0, 10),
              }),
            )
            .join(', '),
          text: t.said(trend.text),
        })}
      >
        {y
          .ticks(4)
          .filter(marked)
          .map((v) => (
            <g key={v}>
              <line className="grid" x1={PAD.left} x2={W - PAD.right} y1={y(v)} y2={y(v)} />
              <text x={PAD.left - 8} y={y(v)} textAnchor="end" dominantBaseline="central">
                {v}
              </text>
            </g>
          ))}
        {x
          .ticks(5)
          .filter(dated)
          .map((v) => (
            <text key={v} x={x(v)} y={H - 12} textAnchor="middle">
              {trend.over === 'hours' ? v : dateTime(first + v * DAY).slice(5, 10)}
            </text>
          ))}
        {/* Left of the first number, however long that is. */}
        <text x={PAD.left - 30} y={H - 12} textAnchor="end">
          {trend.over === 'hours' ? 'h' : ''}
        </text>
        {trend.reaches !== null && (
          <rect
            className="interval"
            x={x(trend.reaches.from)}
            width={Math.max(1, x(trend.reaches.to) - x(trend.reaches.from))}
            y={PAD.top}
            height={H - PAD.top - PAD.bottom}
          />
        )}
        {limits.map((l) => (
          <g key={l}>
            <line className="limit" x1={PAD.left} x2={W - PAD.right} y1={y(l)} y2={y(l)} />
            <text className="limit-name" x={PAD.left + 4} y={y(l) - 7}>
              {t('trend-limit', { value: `${l} ${unit}` })}
            </text>
          </g>
        ))}
        {trend.line !== null && from !== undefined && to !== undefined && (
          <path className="trend-line" d={path([from, to]) ?? ''} />
        )}
        {trend.points.map((p, i) => (
          <circle key={i} className="dot new" cx={x(xOf(p))} cy={y(p.value)} r="5" />
        ))}
      </svg>
    </figure>
  );
}

/** Least and greatest; a little room when all are the same. */
function span(values: readonly number[]): [number, number] {
  const low = Math.min(...values);
  const high = Math.max(...values);
  return low === high ? [low - 1, high + 1] : [low, high];
}
