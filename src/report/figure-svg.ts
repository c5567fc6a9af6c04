import { escaped } from './escaped.ts';
import { inWords, type Figure, type Item } from './figure.ts';
import type { Line } from './pdf-flow.ts';

/** A drawing as SVG within a page: one picture with its words, for whoever does not see it. */
export function figureSvg(figure: Figure): string {
  const { width, height, items } = figure;
  const drawn = items.map(itemSvg).join('');
  return `<svg role="img" aria-label="${escaped(inWords(figure))}" viewBox="0 0 ${width} ${height}" width="${width}" height="${height}">${drawn}</svg>`;
}

function itemSvg(item: Item): string {
  switch (item.kind) {
    case 'line': {
      const { from, to } = item;
      const pale = item.ink === 'pale' ? ' class="pale"' : '';
      return `<path d="M${n(from[0])} ${n(from[1])}L${n(to[0])} ${n(to[1])}" stroke="currentColor" stroke-width="${item.wide}"${pale}/>`;
    }
    case 'disc':
      return `<circle cx="${n(item.at[0])}" cy="${n(item.at[1])}" r="${item.r}" stroke="currentColor" stroke-width="0.8" class="${item.filled ? 'full' : 'empty'}"/>`;
    case 'triangle': {
      const { r } = item;
      const [x, y] = item.at;
      return `<path d="M${n(x)} ${n(y - r)}L${n(x + r)} ${n(y + r)}L${n(x - r)} ${n(y + r)}Z" class="full"/>`;
    }
    case 'text':
      return `<text x="${n(item.at[0])}" y="${n(item.at[1])}" font-size="${n(item.size)}"${item.bold ? ' font-weight="700"' : ''}>${escaped(item.text)}</text>`;
  }
}

/** Hundredths of a point are finer than any printer. */
function n(value: number): string {
  return String(Math.round(value * 100) / 100);
}

/** The marks of the sheet in a box of 20 by 20; their words stand beside them. */
const SHAPES: Readonly<Record<NonNullable<Line['mark']>, string>> = {
  spoken: '<circle class="full" cx="10" cy="10" r="8"/>',
  part: '<circle class="ring" cx="10" cy="10" r="7"/><path class="full" d="M10 3a7 7 0 0 0 0 14z"/>',
  question: '<path class="ring" d="M10 1 19 10 10 19 1 10z"/>',
  unspoken: '<circle class="ring" cx="10" cy="10" r="7"/>',
  skipped: '<path class="ring" d="M4 4l12 12M16 4 4 16"/>',
  'set-aside': '<path class="ring" d="M3 10h14"/>',
  finding: '<path class="full" d="M10 1.5 19.2 18H.8z"/>',
};

/** How a check stands, as a shape; nothing to a screen reader, since the words say it too. */
export function markSvg(mark: NonNullable<Line['mark']>): string {
  return `<svg class="mark" viewBox="0 0 20 20" aria-hidden="true">${SHAPES[mark]}</svg>`;
}
