import { instancesOf, type Catalogue } from '#shared/catalogue';
import { commandOf } from './commands.ts';
import { lexicon } from './lexicon.ts';
import { namesOf, SIDE_WORDS, stems, type CheckEntry, type Names } from './names.ts';
import { Matcher } from './matches/matches.ts';
import { rosterOf } from './matches/roster.ts';
import { NO_VECTORS } from './matches/vectors.ts';
import type { Pronunciations } from './sound/dictionary.ts';
import { earOf, type Ear } from './sound/ear.ts';
import { likeness, soundsOf } from './sound/likeness.ts';
import { ownPronunciations } from './sound/own.ts';
import { phraseWords, tokensOf } from './tokens.ts';
import { unknownConditions } from './unknown.ts';

/** A fault of a catalogue that is heard and not seen. Line and column are 0: it is about names, not places. */
export interface LintProblem {
  readonly file: string;
  readonly line: number;
  readonly column: number;
  readonly path: string;
  readonly text: string;
}

/** Names as like as this are taken for one another by a recogniser in noise. */
const TOO_LIKE = 0.86;
/** Opposites must differ more: a left taken for a right is a check spoken for that was not. */
const OPPOSITE_LIKE = 0.75;

export function lintCatalogue(catalogue: Catalogue, pronunciations: Pronunciations): LintProblem[] {
  const names = namesOf(catalogue);
  const ear = earOf(pronunciations, ownPronunciations(catalogue));
  const problems: LintProblem[] = [];
  const add = (entry: CheckEntry, text: string): void => {
    problems.push({
      file: catalogue.id,
      line: 0,
      column: 0,
      path: `stations.${entry.station.id}.checks.${entry.check.id}`,
      text,
    });
  };
  stolen(names, add);
  alike(names, ear, add);
  opposites(names, ear, add);
  unread(catalogue, names, ear, add);
  for (const { path, text } of unknownConditions(catalogue))
    problems.push({ file: catalogue.id, line: 0, column: 0, path, text });
  return problems;
}

type Add = (entry: CheckEntry, text: string) => void;

/** Names that are also something else to the grammar. */
function stolen(names: Names, add: Add): void {
  const { conditions, verdicts } = lexicon();
  const words = new Map<string, string>();
  for (const c of conditions)
    for (const say of [...c.say, ...c.also])
      words.set(phraseWords(say).join(' '), `the condition "${c.id}"`);
  for (const v of verdicts)
    for (const say of [...v.say, ...v.also])
      words.set(phraseWords(say).join(' '), `the verdict "${v.id}"`);
  for (const entry of names.checks) {
    for (const name of entry.names) {
      const list = phraseWords(name);
      const other = words.get(list.join(' '));
      if (other !== undefined)
        add(
          entry,
          `"${name}" is also ${other}: sentences with it are read in two ways. Give the check a longer name.`,
        );
      if (commandOf(list, false) !== null)
        add(entry, `"${name}" is also an order to Talkround. Give the check another name.`);
    }
  }
}

/** Different names of different checks that sound alike. */
function alike(names: Names, ear: Ear, add: Add): void {
  const rows = names.checks.flatMap((entry) =>
    entry.names.map((name) => ({ entry, name, words: stems(name) })),
  );
  const sounds = rows.map((row) => soundsOf(row.words, ear)[0] ?? new Uint8Array(0));
  for (let i = 0; i < rows.length; i += 1) {
    for (let j = i + 1; j < rows.length; j += 1) {
      const a = rows[i];
      const b = rows[j];
      const x = sounds[i];
      const y = sounds[j];
      if (
        a === undefined ||
        b === undefined ||
        x === undefined ||
        y === undefined ||
        a.entry === b.entry
      )
        continue;
      const plain = (words: readonly string[]): string =>
        words.filter((w) => !SIDE_WORDS.has(w)).join(' ');
      if (a.words.join(' ') === b.words.join(' ')) {
        const apart =
          [...a.entry.sides].some((s) => !b.entry.sides.has(s)) ||
          [...b.entry.sides].some((s) => !a.entry.sides.has(s)) ||
          a.entry.station !== b.entry.station;
        if (!apart)
          add(
            a.entry,
            `"${a.name}" also names the check "${b.entry.check.id}" at the same station: every sentence with it is asked about.`,
          );
        continue;
      }
      if (plain(a.words) === plain(b.words) || Math.abs(x.length - y.length) > 3) continue;
      if (holds(a.words, b.words) || holds(b.words, a.words)) continue;
      const like = likeness(x, y);
      if (like >= TOO_LIKE)
        add(
          a.entry,
          `"${a.name}" sounds like "${b.name}" (check "${b.entry.check.id}", ${like.toFixed(2)}). Give one of them another name or a pronunciation.`,
        );
    }
  }
}

/** Places of one check that sound alike. */
function opposites(names: Names, ear: Ear, add: Add): void {
  for (const entry of names.checks) {
    const places = instancesOf(entry.check).filter((p) => !/\d/.test(p));
    for (let i = 0; i < places.length; i += 1) {
      for (let j = i + 1; j < places.length; j += 1) {
        const like = likeness(
          soundsOf(phraseWords(places[i] ?? ''), ear)[0] ?? new Uint8Array(0),
          soundsOf(phraseWords(places[j] ?? ''), ear)[0] ?? new Uint8Array(0),
        );
        const shared = phraseWords(places[i] ?? '').some((w) =>
          phraseWords(places[j] ?? '').includes(w),
        );
        if (!shared && like >= OPPOSITE_LIKE)
          add(
            entry,
            `its places "${places[i] ?? ''}" and "${places[j] ?? ''}" sound alike (${like.toFixed(2)}). Name them differently.`,
          );
      }
    }
  }
}

/** "NAME is cracked" must match its check best of all at its station, for each of its names. */
function unread(catalogue: Catalogue, names: Names, ear: Ear, add: Add): void {
  const roster = rosterOf(catalogue);
  const matcher = new Matcher(roster, ear, NO_VECTORS);
  for (const entry of names.checks) {
    const own = roster.byKey.get(entry.check.id);
    for (const name of entry.names) {
      const side = [...entry.sides][0];
      const text = `${side !== undefined && !stems(name).some((w) => SIDE_WORDS.has(w)) ? `${side} ` : ''}${name} is cracked`;
      const { of } = matcher.match(tokensOf({ text, words: [] }).tokens);
      const share = own === undefined ? 0 : (of[own.index]?.best ?? 0);
      const taken = roster.members.some(
        (m) =>
          m !== own &&
          m.check !== null &&
          m.station === entry.station &&
          (of[m.index]?.best ?? 0) > share + 1e-6,
      );
      if (share < WHOLE || taken)
        add(
          entry,
          `"${text}" is not read as a sentence about this check. Another name or word takes it away.`,
        );
    }
  }
}
/** Share of a name from which it is heard as a whole. */
const WHOLE = 0.95;

/** "tail gearbox oil" holds "tail gearbox": the longest match to the letter settles which is meant. */
function holds(long: readonly string[], short: readonly string[]): boolean {
  return long.length > short.length && ` ${long.join(' ')} `.includes(` ${short.join(' ')} `);
}
