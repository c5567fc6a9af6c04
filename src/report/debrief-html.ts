import { debriefSections, type Section } from './debrief.ts';
import { planDrawing, planLines, timeFigure } from './debrief-figures.ts';
import { escaped } from './escaped.ts';
import type { Figure } from './figure.ts';
import { figureSvg, markSvg } from './figure-svg.ts';
import type { Line } from './pdf-flow.ts';
import { htmlPage, pictureHtml } from './sheet-html.ts';
import { DEBRIEF_TITLE, headText, opening } from './opening.ts';
import type { SheetParts } from './sheet-pdf.ts';

/**
 * The debrief as one HTML file: what the PDF says, in headings, lists and two
 * drawings with their words, so that a screen reader can go through it.
 */
export function debriefHtml(parts: SheetParts): string {
  const { coverage, catalogue } = parts;
  const time = timeFigure(coverage, catalogue, parts.events ?? []);
  const body = [
    ...opening(parts, DEBRIEF_TITLE).slice(1).map(paragraph),
    planHtml(parts),
    ...(time === null ? [] : [section('In time', [drawing(time, 'axis')])]),
    ...debriefSections(parts).map((s) => sectionHtml(s, parts)),
  ];
  return htmlPage(headText(parts, 'debrief'), body.join('\n'), STYLE, DEBRIEF_TITLE);
}

/** Drawn in the colour of the words, so that it can be read on paper and in the dark. */
const STYLE = `  :root { color-scheme: light dark; }
  body { max-width: 50rem; }
  h1 { margin: 0 0 .5rem; }
  h2 { margin: 1.5rem 0 .25rem; font-size: 1.25rem; }
  h3 { margin: 1rem 0 .25rem; font-size: 1rem; }
  p { margin: .25rem 0; }
  svg { fill: currentColor; }
  figure > svg { display: block; max-width: 100%; height: auto; }
  figcaption, .pale { opacity: .75; }
  .empty { fill: Canvas; }
  .ring { fill: none; stroke: currentColor; stroke-width: 2; }
  .way { display: flex; flex-wrap: wrap; gap: 1rem 2rem; align-items: center; }
  .way figure { margin: 0; max-width: 18rem; }
  .way svg { width: 18rem; }
  .axis svg { width: 100%; }
  .way ol { margin: 0; padding-left: 1.75rem; }
  .checks { margin: 0; padding: 0; list-style: none; }
  .checks li { position: relative; padding: .1rem 0 .1rem 1.6rem; break-inside: avoid; }
  .checks .mark { position: absolute; left: 0; top: .3rem; width: 1rem; height: 1rem; }
  .checks li p { margin: 0; }
  h2, h3 { break-after: avoid; }
  @media print {
    body { margin: 0; padding: 0; max-width: none; font-size: 9pt; }
    h2 { margin-top: 3mm; font-size: 11pt; }
    h3 { font-size: 9.5pt; }
    .way figure, .way svg { width: 70mm; }
    .way { flex-wrap: nowrap; }
  }
`;

function planHtml({ coverage, catalogue }: SheetParts): string {
  const lines = planLines(coverage, catalogue).map(
    (l) => `<li>${l.bold ? `<strong>${escaped(l.words)}</strong>` : escaped(l.words)}</li>`,
  );
  const drawn = drawing(planDrawing(coverage, catalogue));
  return section('The way round', [
    `<div class="way">\n${drawn}\n<ol>\n${lines.join('\n')}\n</ol>\n</div>`,
  ]);
}

/** Its words stand below it too, and are told once. */
function drawing(figure: Figure, name = ''): string {
  const className = name === '' ? '' : ` class="${name}"`;
  return `<figure${className}>${figureSvg(figure)}<figcaption aria-hidden="true">${escaped(figure.told)}</figcaption></figure>`;
}

function section(title: string, inner: readonly string[]): string {
  return `<section>\n<h2>${escaped(title)}</h2>\n${inner.join('\n')}\n</section>`;
}

function sectionHtml({ title, blocks, pictures }: Section, parts: SheetParts): string {
  const shown = (pictures ?? []).flatMap(({ of, caption }) =>
    of.map(({ picture }) => pictureHtml(parts, picture, caption)),
  );
  return section(title, [...linesHtml(blocks.flat()), ...shown]);
}

/** What has a mark is an item of a list, with the lines that follow it further in. */
function linesHtml(lines: readonly Line[]): string[] {
  const html: string[] = [];
  let items: { readonly line: Line; readonly under: Line[] }[] = [];
  const close = () => {
    if (items.length === 0) return;
    const list = items.map(({ line, under }) => itemHtml(line, under));
    html.push(`<ul class="checks">\n${list.join('\n')}\n</ul>`);
    items = [];
  };
  for (const line of lines) {
    const last = items.at(-1);
    if (line.mark !== undefined) items.push({ line, under: [] });
    else if (last !== undefined && line.indent !== undefined) last.under.push(line);
    else {
      close();
      html.push(paragraph(line));
    }
  }
  close();
  return html;
}

function itemHtml(line: Line, under: readonly Line[]): string {
  const mark = line.mark === undefined ? '' : markSvg(line.mark);
  return `<li>${mark}${escaped(line.text)}${under.map(paragraph).join('')}</li>`;
}

function paragraph({ text, bold, pale, level }: Line): string {
  const words = escaped(text);
  if (level !== undefined) return `<h${level}>${words}</h${level}>`;
  return `<p${pale === true ? ' class="pale"' : ''}>${bold === true ? `<strong>${words}</strong>` : words}</p>`;
}
