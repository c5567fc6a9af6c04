import type { Part } from './draft.ts';
import { bare, isName, itemsOf, stated, tidy } from './items.ts';
import { linesOf, SEPARATOR, type Line } from './lines.ts';
import { isProse, sentenceItems, sentencesOf } from './prose.ts';
import { GENERIC } from './trade.ts';

/** "CAUTION: …", and in capitals without the colon; "Warning lights" are a thing. */
const CAUTION =
  /^(?:!+\s*)?(?:(?:warning|caution|danger)s?\s*[:!]\s*|(?:WARNING|CAUTION|DANGER)\s+(?=\p{Lu}\p{Ll}))/iu;
const SHOUTED = /^(?:!+\s*)?(?:WARNING|CAUTION|DANGER)|[:!]/u;
/** Words that are in no English checklist. The recogniser knows English only, so such a line is left and listed. */
const FOREIGN =
  /[äöüßéèêàçñøå]|\b(bei|der|die|das|und|oder|nicht|prüfen|für|auf|par|les|des|avec|vérifier|avant|sur|el|los|las|antes|verificar|con|della|prima)\b/iu;
const NOTE = /^(note|remark|nb|n\.b\.)\b\s*[:.–-]/i;
const LONGEST_HEADING = 6;
const DECORATED = /^[=*#~_-]{2,}\s*(.+?)\s*[=*#~_-]{2,}$|^#+\s*(.+)$/;

/** A printed checklist as parts, in the order of its lines. */
export function partsOfText(text: string): Part[] {
  const { lines, paper } = linesOf(text);
  const parts = lines.flatMap((line, i) => partsOf(line, lines[i + 1]));
  return settled([
    ...parts,
    ...paper.map(({ line, text: said }): Part => ({ kind: 'left', text: said, lines: [line] })),
  ]);
}

function partsOf(line: Line, next: Line | undefined): Part[] {
  const { text, lines } = line;
  const caution = CAUTION.exec(text);
  if (FOREIGN.test(text)) return [{ kind: 'left', text, lines }];
  if (caution !== null && SHOUTED.test(caution[0]) && text.length > caution[0].length)
    return [{ kind: 'caution', text: text.slice(caution[0].length), lines }];
  if (NOTE.test(text)) return [{ kind: 'left', text, lines }];
  const dressed = DECORATED.exec(text);
  if (dressed !== null) return [station(dressed[1] ?? dressed[2] ?? text, lines)];
  const listed = /^([^:;]{2,40}):\s+(.+;.+)$/.exec(text);
  if (listed !== null) {
    const items = (listed[2] ?? '')
      .split(';')
      .map((s) => s.trim())
      .filter((s) => s !== '');
    return [
      station(listed[1] ?? '', lines),
      ...items.map((said) => itemOrLeft(said, lines)).flat(),
    ];
  }
  if (isProse(text)) return prose(text, lines);
  if (isHeading(line, next)) return [station(text, lines)];
  return itemOrLeft(text, lines, line.marked);
}

function station(text: string, lines: readonly number[]): Part {
  return { kind: 'station', name: text.replace(/[:.]$/, '').trim(), lines };
}

function itemOrLeft(text: string, lines: readonly number[], marked = false): Part[] {
  const items = itemsOf(text, lines);
  if (items.length > 0) return items.map((item) => ({ kind: 'check', item }));
  const asked = sentenceItems(text, lines);
  if (asked.length > 0) return asked.map((item) => ({ kind: 'check', item }));
  // A mark in a list, and nothing but a name behind it.
  if (marked && isName(text)) return [{ kind: 'check', item: { name: text, action: '', lines } }];
  return [{ kind: 'left', text, lines }];
}

function prose(text: string, lines: readonly number[]): Part[] {
  const [first = '', ...rest] = sentencesOf(text);
  const heads = sentenceItems(first, lines).length === 0 && first.split(/\s+/).length <= 4;
  return [
    ...(heads ? [station(first, lines)] : sentenceParts(first, lines)),
    ...rest.flatMap((s) => sentenceParts(s, lines)),
  ];
}

function sentenceParts(sentence: string, lines: readonly number[]): Part[] {
  const items = sentenceItems(sentence, lines);
  return items.length === 0
    ? [{ kind: 'left', text: sentence, lines }]
    : items.map((item) => ({ kind: 'check', item }));
}

/** A short line with nothing to do in it, that stands above others. */
function isHeading({ text, opens, marked }: Line, next: Line | undefined): boolean {
  const plain = bare(text);
  if (plain.split(/\s+/).length > LONGEST_HEADING || !/\p{L}{2}/u.test(plain)) return false;
  const ends = /:$/.test(text);
  if (SEPARATOR.test(text.replace(/:$/, ''))) return false;
  if (/[.;!?]$/.test(text)) return false;
  const shouted = text === text.toUpperCase();
  if (ends || shouted) return true;
  if (stated(text) !== null) return false;
  // In a list without marks, what has no action above things that have one.
  return opens && !marked && next !== undefined && !next.opens;
}

/** Headings with nothing below them are titles; what comes before the first station is no check of it. */
function settled(parts: readonly Part[]): Part[] {
  let begun = false;
  return parts.map((part, i): Part => {
    if (part.kind === 'check') {
      const { item } = part;
      const generic =
        GENERIC.test(`${item.name}: ${item.action}`) &&
        !parts.slice(0, i).some((p) => p.kind === 'station');
      if (!begun && generic)
        return { kind: 'title', text: [item.name, item.action].join(': '), lines: item.lines };
      begun = true;
      return part;
    }
    if (part.kind === 'left' && !begun && /\p{L}{3}/u.test(part.text))
      return { kind: 'title', text: part.text, lines: part.lines };
    if (part.kind !== 'station') return part;
    const below = parts.slice(i + 1).find((p) => p.kind === 'check' || p.kind === 'station');
    const empty = below === undefined || below.kind === 'station';
    if (!empty) return { ...part, name: tidy(bare(part.name)) };
    return begun || below === undefined
      ? { kind: 'left', text: part.name, lines: part.lines }
      : { kind: 'title', text: part.name, lines: part.lines };
  });
}

/** The name of the aircraft in the titles; null when they only say that it is a checklist. */
export function nameIn(titles: readonly string[]): string | null {
  const names = titles.flatMap((title) => {
    const words = title.split(/\s*[:/|]\s+|\s{3,}|\s+\/\s+|\.\s+|\s+of (?:the )?/);
    return words.filter((w) => !GENERIC.test(w) && /\p{L}{3}/u.test(w));
  });
  const best =
    names.find((n) =>
      /\d|glider|gyro|helicopter|aeroplane|airplane|seaplane|ultralight/i.test(n),
    ) ?? names[0];
  return best === undefined ? null : tidy(bare(best));
}
