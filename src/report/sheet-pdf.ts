import type { Catalogue, Check } from '#shared/catalogue';
import { reviewWords, STANDING_WORDS, type CheckCoverage, type Coverage } from '#shared/coverage';
import type { Event } from '#shared/event';
import { debriefSections } from './debrief.ts';
import { planFigure, timeFigure } from './debrief-figures.ts';
import { editionLines } from './edition-words.ts';
import { PICTURE_MIME, type Picture } from '#shared/picture';
import type { Letters } from './letters.ts';
import { pdfFlow, type Flow, type Line, type PaperSize } from './pdf-flow.ts';
import { absentWords, type PicturesHere } from './pictures.ts';
import {
  becauseWords,
  checkNames,
  CLOSING,
  findingLines,
  missingText,
  shown,
} from './sheet-text.ts';
import { DEBRIEF_TITLE, day, headText, inShort, opening, whoWords } from './opening.ts';
import { measuredWords, otherWords, toldLines } from '#shared/told';

/** What a printed sheet says of the walk itself. */
export interface WalkHead {
  readonly aircraft: string;
  readonly pilot: string | null;
  readonly instructor: string | null;
  /** Milliseconds since 1970. */
  readonly begun: number;
  readonly hours: number | null;
}

export interface SheetParts {
  readonly coverage: Coverage;
  readonly catalogue: Catalogue;
  readonly head: WalkHead;
  readonly size: PaperSize;
  /** What may be said of the walk's seal; left out where nobody asked. */
  readonly seal?: SealWords;
  /** What happened on the walk, for its way in time; left out: none is drawn. */
  readonly events?: readonly Event[];
  /** Bytes of the pictures that findings name; left out: none is shown, and each is named as absent. */
  readonly pictures?: PicturesHere;
}

/** What may be said of a walk's seal, and what was said beside the walk, in sentences. */
export interface SealWords {
  readonly whole: boolean;
  readonly text: string;
  readonly remarks: readonly string[];
  readonly beside: readonly string[];
}

type Pdf = Uint8Array<ArrayBuffer>;

/** The sheet: findings first, then the stations in walking order. */
export async function sheetPdf(parts: SheetParts, letters: Letters): Promise<Pdf> {
  const { coverage, catalogue } = parts;
  const names = checkNames(catalogue);
  const flow = await pdfFlow(headText(parts, 'sheet'), { size: parts.size, letters });
  flow.block(opening(parts, 'What was spoken for'));
  await drawFindings(flow, parts);
  for (const station of catalogue.stations) {
    const here = coverage.checks.filter((c) => c.station === station.id && shown(c));
    here.forEach((c, i) => {
      const lines = checkLines(c, names.checks.get(c.check));
      flow.block([...(i === 0 ? [heading(station.name)] : []), ...lines]);
      flow.under(station.name);
    });
    flow.under(null);
  }
  if (coverage.remarks.length > 0) {
    flow.block([heading('How the walk went'), ...coverage.remarks.map((r) => ({ text: r.text }))]);
  }
  if (besideLines(parts).length > 0) flow.block(besideLines(parts));
  flow.block(endLines(parts));
  return flow.bytes();
}

/** The walk for the talk afterwards: what is open, the way in plan and in time, and the words of every claim. */
export async function debriefPdf(parts: SheetParts, letters: Letters): Promise<Pdf> {
  const { coverage, catalogue } = parts;
  const flow = await pdfFlow(headText(parts, 'debrief'), { size: parts.size, letters });
  flow.block(opening(parts, DEBRIEF_TITLE));
  flow.figure(planFigure(coverage, catalogue));
  const time = timeFigure(coverage, catalogue, parts.events ?? []);
  if (time !== null) {
    flow.block([heading('In time')]);
    flow.figure(time);
  }
  for (const { title, blocks, pictures } of debriefSections(parts)) {
    blocks.forEach((lines, i) => {
      const all = i === 0 ? [heading(title), ...lines] : lines;
      const last = all.findLast((line) => line.level !== undefined);
      if (last !== undefined) flow.under(null);
      flow.block(all);
      if (last !== undefined) flow.under(last.text);
    });
    for (const { of, caption } of pictures ?? [])
      await drawPictures(flow, of, parts.pictures, caption);
    flow.under(null);
  }
  return flow.bytes();
}

/** A paper form of the walk, for whoever has to hand one in. It is no maintenance entry and no release. */
export async function formPdf(parts: SheetParts, letters: Letters): Promise<Pdf> {
  const { coverage, catalogue, head } = parts;
  const flow = await pdfFlow(headText(parts, 'form'), { size: parts.size, letters });
  flow.block([
    { text: 'Record of a pre-flight walk', size: 18, bold: true, level: 1 },
    { text: `Aircraft: ${head.aircraft}`, above: 6 },
    { text: `Catalogue: ${catalogue.name}` },
    { text: `Date and time: ${day(head.begun)}` },
    ...whoWords(head).map((text) => ({ text })),
    {
      text: 'This form says what was and was not spoken for on the walk. It is not a maintenance entry and not a return to service (14 CFR 43.9 and 43.11 or your own rules).',
      pale: true,
      size: 9,
      above: 4,
    },
    ...inShort(parts),
  ]);
  await drawFindings(flow, parts);
  const names = checkNames(catalogue);
  for (const station of catalogue.stations) {
    const here = coverage.checks.filter((c) => c.station === station.id && c.required.today);
    here.forEach((c, i) => {
      const line: Line = {
        mark: c.standing,
        text: standsWords(c, names.checks.get(c.check)),
        size: 9,
      };
      flow.block([...(i === 0 ? [heading(station.name)] : []), line]);
      flow.under(station.name);
    });
    flow.under(null);
  }
  flow.block(endLines(parts));
  flow.rule('Pilot in command: name, certificate number, date');
  flow.rule('Instructor, where there is one: name, certificate number, date');
  return flow.bytes();
}

async function drawFindings(
  flow: Flow,
  { coverage, catalogue, pictures }: SheetParts,
): Promise<void> {
  const names = checkNames(catalogue);
  for (const [i, finding] of coverage.findings.entries()) {
    const lines = findingLines(finding, names, { why: false }).map((text): Line => ({
      text: text.trim(),
      indent: text.startsWith('   ') ? 14 : 0,
    }));
    const [first] = lines;
    if (first !== undefined)
      lines[0] = { ...first, text: first.text.replace(/^! /, ''), mark: 'finding' };
    flow.block([...(i === 0 ? [heading('Findings')] : []), ...lines]);
    await drawPictures(flow, finding.pictures, pictures, lines[0]?.text ?? '');
  }
}

/** The pictures of one thing; one that is not here is said in its place. */
export async function drawPictures(
  flow: Flow,
  pictures: readonly Picture[] | undefined,
  here: PicturesHere | undefined,
  caption: string,
): Promise<void> {
  for (const { hash } of pictures ?? []) {
    const shown = here?.get(hash);
    const absent = absentWords(shown);
    const drawn =
      shown?.state === 'here' &&
      shown.mime === PICTURE_MIME &&
      (await flow.picture(shown.data, caption));
    if (drawn) continue;
    flow.block([{ text: absent ?? 'A picture was taken that cannot be printed.', size: 9 }]);
  }
}

function heading(text: string): Line {
  return { text, bold: true, size: 11.5, above: 10, level: 2 };
}

/** "skid shoes: part spoken; missing: right". */
function standsWords(coverage: CheckCoverage, check: Check | undefined): string {
  const missing = missingText(coverage, check);
  const stands = `${check?.name ?? coverage.check}: ${STANDING_WORDS[coverage.standing]}`;
  return missing === '' ? stands : `${stands}; missing: ${missing}`;
}

function checkLines(coverage: CheckCoverage, check: Check | undefined): Line[] {
  const said = [...toldLines(coverage), ...otherWords(coverage).map((words) => `“${words}”`)];
  const because = becauseWords(coverage);
  const measured = measuredWords(coverage, check);
  return [
    {
      mark: coverage.standing,
      text: standsWords(coverage, check),
    },
    ...(because === null ? [] : [{ text: because, size: 9, indent: 18 }]),
    ...(measured === null ? [] : [{ text: `measured: ${measured}`, size: 9, indent: 18 }]),
    ...said.map((text) => ({ text, pale: true, size: 9, indent: 18 })),
    ...(coverage.reviews ?? []).map((review) => ({
      text: `Reviewed by ${reviewWords(review)}`,
      bold: true,
      size: 9,
      indent: 18,
    })),
  ];
}

function besideLines({ seal }: SheetParts): Line[] {
  const beside = seal?.beside ?? [];
  if (beside.length === 0) return [];
  return [
    heading('Said beside this walk; none of it changes what was spoken for'),
    ...beside.map((text) => ({ text, size: 9 })),
  ];
}

function endLines({ coverage, catalogue, seal }: SheetParts): Line[] {
  const { decision, signed } = coverage;
  const lines: Line[] = [
    ...(decision === null
      ? []
      : [
          {
            text: `Decision of the pilot in command: ${decision.decision.replace('-', ' ')}, by ${decision.by}${decision.authority === null ? '' : `, on the authority of ${decision.authority}`}${decision.note === null ? '' : `; ${decision.note}`}`,
          },
        ]),
    ...(signed === null
      ? []
      : [
          {
            text: `Signed: ${signed.name}${signed.certificate === null ? '' : `, certificate ${signed.certificate}`}`,
          },
        ]),
    ...(seal === undefined ? [] : [{ text: seal.text, size: 9 }]),
    ...editionLines(catalogue, coverage.edition).map((text, i): Line => ({
      text,
      pale: true,
      size: 9,
      ...(i === 0 ? { above: 10 } : {}),
    })),
    { text: CLOSING, pale: true, size: 9, above: 10 },
  ];
  // Apart from the last check above it.
  return lines.map((line, i) => (i === 0 ? { ...line, above: 12 } : line));
}
