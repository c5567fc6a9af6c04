import { speakerOf, tidy, type Oddities, type Piece } from './piece.ts';

/*
 * WebVTT (W3C, https://www.w3.org/TR/webvtt1/) and SubRip. Caption libraries
 * throw a cue away when its times are wrong, words and all, as players should;
 * here the words are evidence. So the blocks are read here, and a test holds
 * the reading of well-formed files against a caption library.
 */

const TIME = String.raw`(?:(\d{1,4}):)?(\d{1,2}):(\d{1,2})(?:[.,](\d{1,3}))?`;
const ARROW = new RegExp(String.raw`^\s*${TIME}\s*-{1,2}>\s*${TIME}(?:\s|$)`);
const LOOSE_ARROW = /-->/;

function isArrow(line: string | undefined): boolean {
  return line !== undefined && line.includes('->') && ARROW.test(line);
}

const VOICE = /<v(?:\.[^\s>]*)?\s+([^>]*)>/gi;
const TAGS = /<\/?(?:c|i|b|u|ruby|rt|v|lang|font)(?:[.\s][^<>]*)?>|<\d[\d:.]*>|\{\\[a-z0-9]+\}/gi;
const ENTITIES: Readonly<Record<string, string>> = {
  '&amp;': '&',
  '&lt;': '<',
  '&gt;': '>',
  '&quot;': '"',
  '&#39;': "'",
  '&nbsp;': ' ',
  '&lrm;': '',
  '&rlm;': '',
};

/** true when the text is a file of cues: a line with an arrow between two times. */
export function hasCues(lines: readonly string[]): boolean {
  return /^WEBVTT(?:\s|$)/.test(lines[0] ?? '') || lines.some(isArrow);
}

function seconds(groups: readonly (string | undefined)[]): number | null {
  const [h, m, s, ms] = groups;
  const minutes = Number(m);
  const whole = Number(s);
  if (minutes > 59 || whole > 59) return null;
  return Number(h ?? 0) * 3600 + minutes * 60 + whole + Number((ms ?? '0').padEnd(3, '0')) / 1000;
}

function plain(text: string): string {
  return tidy(
    text
      .replace(TAGS, '')
      .replace(/&(?:amp|lt|gt|quot|#39|nbsp|lrm|rlm);/g, (e) => ENTITIES[e] ?? e),
  );
}

interface Cue {
  from: number | null;
  to: number | null;
  text: string[];
  line: number;
}

/** Reads WebVTT or SubRip. Words are kept whatever the times are. */
export function readCues(lines: readonly string[], odd: Oddities): Piece[] {
  const cues: Cue[] = [];
  const vtt = /^WEBVTT(?:\s|$)/.test(lines[0] ?? '');
  let at = vtt ? skipBlock(lines, 0) : 0;
  while (at < lines.length) {
    if (blank(lines[at])) {
      at += 1;
      continue;
    }
    if (vtt && /^(?:NOTE|STYLE|REGION)(?:\s|$)/.test(lines[at] ?? '') && !arrowIn(lines, at)) {
      at = skipBlock(lines, at);
      continue;
    }
    at = readBlock(lines, at, cues, odd);
  }
  return inOrder(unrolled(cues, odd).flatMap(piecesOf), odd);
}

function blank(line: string | undefined): boolean {
  return line === undefined || line.trim() === '';
}

function skipBlock(lines: readonly string[], at: number): number {
  let end = at;
  while (end < lines.length && !blank(lines[end])) end += 1;
  return end;
}

/** A comment may not hold an arrow; a cue's id may be the word NOTE. */
function arrowIn(lines: readonly string[], at: number): boolean {
  return isArrow(lines[at + 1]);
}

/** Reads one block of lines from `at`; gives the position behind it. */
function readBlock(lines: readonly string[], at: number, cues: Cue[], odd: Oddities): number {
  // An id is a line before the arrow.
  const arrowAt = isArrow(lines[at]) ? at : isArrow(lines[at + 1]) ? at + 1 : -1;
  if (arrowAt === -1) {
    const broken = LOOSE_ARROW.test(lines[at] ?? '')
      ? at
      : LOOSE_ARROW.test(lines[at + 1] ?? '')
        ? at + 1
        : -1;
    const end = skipBlock(lines, at);
    if (broken !== -1) {
      odd.note(
        'cue has times that cannot be read; its words are kept without a time | cues have times that cannot be read; their words are kept without a time',
        broken + 1,
      );
    } else {
      odd.note(
        'block of words stands without a time; it is kept | blocks of words stand without a time; they are kept',
        at + 1,
      );
    }
    const text = lines.slice(broken === -1 ? at : broken + 1, end);
    // A caption number alone carries no words.
    if (!(text.length === 1 && /^\s*\d+\s*$/.test(text[0] ?? ''))) {
      cues.push({ from: null, to: null, text, line: at + 1 });
    }
    return end;
  }
  const match = ARROW.exec(lines[arrowAt] ?? '') ?? [];
  const from = seconds(match.slice(1, 5));
  let to = seconds(match.slice(5, 9));
  if (from === null || (to === null && match.length > 0)) {
    odd.note(
      'cue has minutes or seconds above 59; its words are kept | cues have minutes or seconds above 59; their words are kept',
      arrowAt + 1,
    );
  } else if (to !== null && to < from) {
    odd.note(
      'cue ends before it begins; its words are kept, its end is not | cues end before they begin; their words are kept, their ends are not',
      arrowAt + 1,
    );
    to = null;
  }
  let end = arrowAt + 1;
  // A new arrow without a blank line before it begins a new cue, as WebVTT has it.
  while (end < lines.length && !blank(lines[end]) && !isArrow(lines[end])) end += 1;
  let text = lines.slice(arrowAt + 1, end);
  if (isArrow(lines[end]) && /^\s*\d+\s*$/.test(text.at(-1) ?? '')) text = text.slice(0, -1);
  cues.push({ from, to, text, line: arrowAt + 1 });
  return end;
}

/**
 * Captions made live roll: each cue repeats the line before and adds one. Where
 * most cues do that, the repeats are taken out; otherwise "rivet line good"
 * said three times has to stay three.
 */
function unrolled(cues: readonly Cue[], odd: Oddities): readonly Cue[] {
  const clean = cues.map((cue) => ({ ...cue, text: cue.text.filter((l) => plain(l) !== '') }));
  let repeats = 0;
  clean.forEach((cue, i) => {
    const before = clean[i - 1];
    if (before !== undefined && rolls(before, cue)) repeats += 1;
  });
  const several = clean.filter((cue) => cue.text.length > 1).length;
  if (repeats < 3 || several < 3 || repeats < 0.5 * (clean.length - 1)) return cues;
  odd.note(
    'caption repeats the line before it, as rolling captions do; the repeat is left out | captions repeat the line before them, as rolling captions do; the repeats are left out',
    clean[0]?.line ?? 1,
  );
  return clean.map((cue, i) => {
    const before = clean[i - 1];
    if (before === undefined || !rolls(before, cue)) return cue;
    return { ...cue, text: cue.text.slice(1) };
  });
}

function rolls(before: Cue, cue: Cue): boolean {
  const last = before.text.at(-1);
  return last !== undefined && cue.text[0] !== undefined && plain(last) === plain(cue.text[0]);
}

/** One piece for each voice in the cue. */
function piecesOf(cue: Cue): Piece[] {
  const whole = cue.text.join('\n');
  const at = { from: cue.from, to: cue.to, line: cue.line };
  const voices = [...whole.matchAll(VOICE)];
  if (voices.length === 0) {
    const { speaker, text } = speakerOf(plain(whole));
    return text === '' ? [] : [{ ...at, speaker, text }];
  }
  const head = plain(whole.slice(0, voices[0]?.index ?? 0));
  const rest = voices.map((voice, i) => ({
    ...at,
    speaker: plain(voice[1] ?? '') || null,
    text: plain(whole.slice(voice.index + voice[0].length, voices[i + 1]?.index)),
  }));
  return [{ ...at, speaker: null, text: head }, ...rest].filter((piece) => piece.text !== '');
}

/** By time, as a player shows them; what has no time stays behind what it followed. */
function inOrder(pieces: readonly Piece[], odd: Oddities): Piece[] {
  let latest = -Infinity;
  let end = -Infinity;
  const keyed = pieces.map((piece, i) => {
    if (piece.from !== null) {
      if (piece.from < latest) {
        odd.note(
          'cue begins before the one in front of it; it was put in order of time | cues begin before the one in front of them; they were put in order of time',
          piece.line,
        );
      } else if (piece.from < end - OVERLAP_UNNOTICED) {
        odd.note(
          'cue overlaps the one before it; both are kept | cues overlap the one before them; all are kept',
          piece.line,
        );
      }
    }
    const key = piece.from ?? latest;
    latest = Math.max(latest, key);
    end = Math.max(end, piece.to ?? -Infinity);
    return { piece, key, i };
  });
  return keyed.sort((a, b) => (a.key === b.key ? a.i - b.i : a.key - b.key)).map((k) => k.piece);
}

/** Seconds by which cues may overlap without a word: rounding of times. */
const OVERLAP_UNNOTICED = 0.05;
