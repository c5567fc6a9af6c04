import type { Catalogue, Check } from '#shared/catalogue';
import { reviewWords, STANDING_WORDS, type CheckCoverage, type Coverage } from '#shared/coverage';
import type { Event } from '#shared/event';
import { planFigure, timeFigure } from './debrief-figures.ts';
import { PICTURE_MIME, type Picture } from '#shared/picture';
import { pdfFlow, type Flow, type Line, type PaperSize } from './pdf-flow.ts';
import { absentWords, type PicturesHere } from './pictures.ts';
import {
  becauseWords,
  checkNames,
  claimWords,
  CLOSING,
  findingLines,
  missingText,
  shown,
} from './sheet-text.ts';
import { summaryOf, summarySentence } from './summary.ts';
import { measuredWords, otherWords, toldCount, toldLines, toldSentence } from '#shared/told';

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

function headText({ catalogue, head }: SheetParts, what: string): string {
  const pilot = head.pilot === null ? '' : `, pilot ${head.pilot}`;
  const taught = head.instructor === null ? '' : `, instructor ${head.instructor}`;
  const hours = head.hours === null ? '' : `, ${head.hours} h`;
  return `Talkround ${what}: ${head.aircraft}${pilot}${taught}, ${day(head.begun)}${hours}, ${catalogue.name}`;
}

function day(at: number): string {
  return new Date(at).toISOString().slice(0, 16).replace('T', ' ') + ' UTC';
}

function opening(parts: SheetParts, title: string): Line[] {
  const { head, catalogue, coverage } = parts;
  const who = [
    head.pilot === null ? null : `Pilot: ${head.pilot}`,
    head.instructor === null ? null : `Instructor: ${head.instructor}`,
    head.hours === null ? null : `Aircraft time in service: ${head.hours} h`,
  ].filter((w) => w !== null);
  return [
    { text: title, size: 18, bold: true },
    { text: `${head.aircraft}, ${catalogue.name}, ${day(head.begun)}`, above: 4 },
    ...(who.length === 0 ? [] : [{ text: who.join('; ') }]),
    ...(catalogue.notice === undefined ? [] : [{ text: catalogue.notice, pale: true, size: 9 }]),
    { text: summarySentence(summaryOf(coverage)), bold: true, above: 8 },
    ...boldLine(toldSentence(coverage)),
    ...doubts(parts).map((text) => ({ text, bold: true })),
  ];
}

/** The sheet: findings first, then the stations in walking order. */
export async function sheetPdf(parts: SheetParts): Promise<Pdf> {
  const { coverage, catalogue } = parts;
  const names = checkNames(catalogue);
  const flow = await pdfFlow(headText(parts, 'sheet'), parts.size);
  flow.block(opening(parts, 'What was spoken for'));
  for (const [i, finding] of coverage.findings.entries()) {
    const lines = findingLines(finding, names, { why: false }).map((text): Line => ({
      text: text.trim(),
      indent: text.startsWith('   ') ? 14 : 0,
    }));
    const [first] = lines;
    if (first !== undefined)
      lines[0] = { ...first, text: first.text.replace(/^! /, ''), mark: 'finding' };
    flow.block([...(i === 0 ? [heading('Findings')] : []), ...lines]);
    await drawPictures(flow, finding.pictures, parts.pictures, lines[0]?.text ?? '');
  }
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
export async function debriefPdf(parts: SheetParts): Promise<Pdf> {
  const { coverage, catalogue } = parts;
  const names = checkNames(catalogue);
  const name = (id: string) => names.checks.get(id)?.name ?? id;
  const flow = await pdfFlow(headText(parts, 'debrief'), parts.size);
  flow.block(opening(parts, 'For the talk afterwards'));
  flow.figure(planFigure(coverage, catalogue));
  const time = timeFigure(coverage, catalogue, parts.events ?? []);
  if (time !== null) {
    flow.block([heading('In time')]);
    flow.figure(time);
  }
  const group = (title: string, standings: readonly CheckCoverage['standing'][]) => {
    const list = coverage.checks.filter((c) => c.required.today && standings.includes(c.standing));
    if (list.length === 0) return;
    const items = list.map((c) => {
      const missing = missingText(c, names.checks.get(c.check));
      return missing === '' ? name(c.check) : `${name(c.check)} (${missing})`;
    });
    flow.block([heading(title), { text: items.join('; '), size: 9 }]);
  };
  group('Skipped', ['skipped', 'unspoken']);
  group('In question', ['question']);
  group('Part spoken', ['part']);
  group('Set aside', ['set-aside']);
  const findings = coverage.findings.flatMap((f) => findingLines(f, names, { why: false }));
  if (findings.length > 0) {
    flow.block([
      heading('Findings'),
      ...findings.map((text): Line => {
        const found = /^\s*! /.test(text);
        return {
          text: text.trim().replace(/^! /, ''),
          size: 9,
          ...(found ? { mark: 'finding' } : { indent: 14 }),
        };
      }),
    ]);
  }
  for (const { pictures, ...f } of coverage.findings) {
    const [caption = ''] = findingLines(f, names, { why: false });
    await drawPictures(flow, pictures, parts.pictures, caption.trim().replace(/^! /, ''));
  }
  for (const block of claimBlocks(parts)) flow.block(block);
  const pace = coverage.times
    .filter((t) => t.seconds > 0)
    .map((t) => {
      const station = catalogue.stations.find((s) => s.id === t.station)?.name ?? t.station;
      return `${station} ${Math.round(t.seconds)} s`;
    });
  if (pace.length > 0)
    flow.block([heading('Time at each station'), { text: pace.join('; '), size: 9 }]);
  if (coverage.remarks.length > 0) {
    flow.block([
      heading('How the walk went'),
      ...coverage.remarks.map((r) => ({ text: r.text, size: 9 })),
    ]);
  }
  const marked = coverage.checks.filter((c) => (c.reviews ?? []).length > 0);
  if (marked.length > 0) {
    flow.block([
      heading('Reviewer'),
      ...marked.map((c) => ({
        text: [
          `${name(c.check)}: ${STANDING_WORDS[c.standing]}`,
          ...(c.reviews ?? []).map(reviewWords),
        ].join('; '),
        size: 9,
      })),
    ]);
  }
  return flow.bytes();
}

/** A paper form of the walk, for whoever has to hand one in. It is no maintenance entry and no release. */
export async function formPdf(parts: SheetParts): Promise<Pdf> {
  const { coverage, catalogue, head } = parts;
  const flow = await pdfFlow(headText(parts, 'form'), parts.size);
  flow.block([
    { text: 'Record of a pre-flight walk', size: 18, bold: true },
    { text: `Aircraft: ${head.aircraft}`, above: 6 },
    { text: `Catalogue: ${catalogue.name}` },
    { text: `Date and time: ${day(head.begun)}` },
    {
      text: 'This form says what was and was not spoken for on the walk. It is not a maintenance entry and not a return to service (14 CFR 43.9 and 43.11 or your own rules).',
      pale: true,
      size: 9,
      above: 4,
    },
  ]);
  for (const station of catalogue.stations) {
    const here = coverage.checks.filter((c) => c.station === station.id && c.required.today);
    if (here.length === 0) continue;
    flow.block([
      heading(station.name),
      ...here.map((c) => ({
        mark: c.standing,
        text: `${station.checks.find((k) => k.id === c.check)?.name ?? c.check}: ${STANDING_WORDS[c.standing]}`,
        size: 9,
      })),
    ]);
  }
  flow.block(endLines(parts));
  flow.rule('Pilot in command: name, certificate number, date');
  flow.rule('Instructor, where there is one: name, certificate number, date');
  return flow.bytes();
}

/** The pictures of one thing; one that is not here is said in its place. */
export async function drawPictures(
  flow: Flow,
  pictures: readonly Picture[] | undefined,
  here: PicturesHere | undefined,
  caption: string,
): Promise<void> {
  for (const { picture } of pictures ?? []) {
    const shown = here?.get(picture);
    const absent = absentWords(shown);
    const drawn =
      shown?.state === 'here' &&
      shown.mime === PICTURE_MIME &&
      (await flow.picture(shown.data, caption));
    if (drawn) continue;
    flow.block([{ text: absent ?? 'A picture was taken that cannot be printed.', size: 9 }]);
  }
}

function boldLine(text: string | null): Line[] {
  return text === null ? [] : [{ text, bold: true }];
}

/**
 * Every check with how it stands and the words that it stands on, at its station,
 * with what was explained, done and reported there where anything was explained (R2).
 */
function claimBlocks({ coverage, catalogue }: SheetParts): Line[][] {
  const names = checkNames(catalogue);
  const taught = toldSentence(coverage) !== null;
  const blocks = catalogue.stations.flatMap((station): Line[][] => {
    const here = coverage.checks.filter((c) => c.station === station.id && shown(c));
    if (here.length === 0) return [];
    const { checks, explained, done, reported } = toldCount(here);
    const counts = `: ${explained} of ${checks} explained, ${done} done, ${reported} reported`;
    const title = {
      text: `${station.name}${taught ? counts : ''}`,
      bold: true,
      size: 9.5,
      above: 5,
    };
    // A station may be longer than a page: it is torn between checks, never in one.
    return here.map((c, i) => [...(i === 0 ? [title] : []), ...claimLines(c, names)]);
  });
  const title = taught
    ? 'What was taught and what was reported'
    : 'Check by check, in the words said';
  const [first = [], ...rest] = blocks;
  return first.length === 0 ? [] : [[heading(title), ...first], ...rest];
}

function claimLines(c: CheckCoverage, names: ReturnType<typeof checkNames>): Line[] {
  return [{ mark: c.standing, text: claimWords(c, names), size: 8.5 }];
}

function heading(text: string): Line {
  return { text, bold: true, size: 11.5, above: 10 };
}

function checkLines(coverage: CheckCoverage, check: Check | undefined): Line[] {
  const missing = missingText(coverage, check);
  const said = [...toldLines(coverage), ...otherWords(coverage).map((words) => `“${words}”`)];
  const because = becauseWords(coverage);
  const measured = measuredWords(coverage, check);
  return [
    {
      mark: coverage.standing,
      text: `${check?.name ?? coverage.check}: ${STANDING_WORDS[coverage.standing]}${missing === '' ? '' : `; missing: ${missing}`}`,
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

/** What has to be read before the rest is believed. */
export function doubts({ seal, coverage }: Pick<SheetParts, 'seal' | 'coverage'>): string[] {
  if (seal === undefined) return [];
  return [...(!seal.whole && coverage.signed !== null ? [seal.text] : []), ...seal.remarks];
}

function besideLines({ seal }: SheetParts): Line[] {
  const beside = seal?.beside ?? [];
  if (beside.length === 0) return [];
  return [
    heading('Said beside this walk; none of it changes what was spoken for'),
    ...beside.map((text) => ({ text, size: 9 })),
  ];
}

function endLines({ coverage, seal }: SheetParts): Line[] {
  const { decision, signed } = coverage;
  return [
    ...(decision === null
      ? []
      : [
          {
            text: `Decision of the pilot in command: ${decision.decision.replace('-', ' ')}, by ${decision.by}${decision.authority === null ? '' : `, on the authority of ${decision.authority}`}${decision.note === null ? '' : `; ${decision.note}`}`,
            above: 12,
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
    { text: CLOSING, pale: true, size: 9, above: 10 },
  ];
}
