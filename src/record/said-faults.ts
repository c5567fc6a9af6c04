import { limitText } from '#shared/abnormal';
import { instancesOf, type Catalogue, type Check } from '#shared/catalogue';
import { worse, type Severity } from '#shared/severity';
import { signsAt } from '#shared/sign';
import type { Fault } from '#shared/squawk';
import { freeFault, partIn, type StateSaid } from './free-fault.ts';
import { degreeBefore, partFor, tradeStates, writtenOut } from './trade.ts';

/*
 * A squawk that was dictated or typed by itself. It is written up as it was said:
 * a part of the catalogue is meant only where its name was said, and nothing is
 * guessed that was not (R5). On a walk the reader knows where the speaker is and
 * what was asked; here nobody does.
 */

/** A number in the words [from, to) of a text, with its unit where one was said. */
export interface AmountSaid {
  readonly from: number;
  readonly to: number;
  readonly value: number;
  readonly over: number | null;
  readonly unit: string | null;
}

export interface Dictating {
  /** The catalogue of this aircraft; null when it is not known. */
  readonly catalogue: Catalogue | null;
  /** The severity that the reporter said; null when none was. */
  readonly severity: Severity | null;
  states(text: string): readonly StateSaid[];
  amounts(text: string): readonly AmountSaid[];
}

/** The faults that one dictation tells of: one, unless it names two things. */
export function faultsIn(words: string, how: Dictating): Fault[] {
  return thingsIn(words, how).map((said) => faultIn(said, how));
}

/** Where a second thing may begin. */
const JOINTS = /\s*(?:;|\.\s|,?\s+and\s+(?:also\s+)?)\s*/gi;

/**
 * The words of each thing. They are parted only where both sides name a thing
 * and say what is wrong with it: "cracked and leaking" is one fault, and half a
 * sentence that names nothing belongs to the thing before it.
 */
function thingsIn(words: string, how: Dictating): string[] {
  const text = words.trim();
  for (const joint of text.matchAll(JOINTS)) {
    const head = text.slice(0, joint.index).trim();
    const tail = text.slice(joint.index + joint[0].length).trim();
    if (!isWhole(head, how) || !isWhole(tail, how)) continue;
    return [head, ...thingsIn(tail, how)];
  }
  return [text];
}

function isWhole(text: string, how: Dictating): boolean {
  const plain = writtenOut(text);
  const states = tradeStates(plain, how.states(plain));
  const { part } = freeFault(plain, states, null);
  return states.length > 0 && part !== null && !/^(it|that|this|they|both|one)$/.test(part);
}

function faultIn(words: string, how: Dictating): Fault {
  const { catalogue } = how;
  const text = writtenOut(words);
  const all = text.split(' ').filter((w) => w !== '');
  const states = tradeStates(text, how.states(text));
  const free = freeFault(text, states, how.severity);
  const part = partFor(states) ?? partOfFluid(free, all) ?? free.part;
  const check = catalogue === null || part === null ? null : checkNamed(catalogue, part, free.side);
  const signs = catalogue === null ? [] : signsAt(catalogue, check);
  const conditions = free.conditions.map((c, i) => ({
    ...c,
    degree: degreeBefore(all, states[i]?.from ?? 0),
    sign:
      check === null ? null : (signs.find((s) => s.conditions.includes(c.condition))?.id ?? null),
  }));
  const proposed = conditions
    .map((c) => signs.find((s) => s.id === c.sign)?.severity ?? null)
    .reduce(worse, null as Severity | null);
  const side = free.side ?? (check === null ? null : sideIn(check.name));
  return {
    ...free,
    words,
    check: check?.id ?? null,
    part: check?.name ?? part,
    side,
    conditions,
    value: valueIn(how.amounts(text), all, check),
    severity: how.severity ?? proposed,
    ...(how.severity !== null
      ? { severityBy: 'said' as const }
      : proposed === null
        ? {}
        : { severityBy: 'catalogue' as const }),
  };
}

const FLUID =
  /^(engine |brake |hydraulic )?(oil|fuel|coolant|hydraulic fluid|brake fluid|fluid|water|air|exhaust)$/;

/** "Oil leak at the rocker cover": the cover leaks, not the oil. Null where nothing stands behind. */
function partOfFluid({ part, conditions }: Fault, words: readonly string[]): string | null {
  if (part === null || !FLUID.test(part)) return null;
  if (!conditions.some((c) => /^(leak|seepage)$/.test(c.condition))) return null;
  const at = words.findIndex((w) => /^(at|from|on|around|under|past)$/i.test(w));
  if (at < 0) return null;
  const rest = words.slice(at + 1);
  const end = rest.findIndex((w) => /^(and|but|when|while|after|during|in|near|by)$/i.test(w));
  return partIn(rest.slice(0, end < 0 ? rest.length : end).join(' '));
}

/**
 * The check whose name was said, word for word; words before it may only say at
 * which station it is. Of several the longest name, then the one of the side that
 * was said, then the one that is always required; none where that leaves two.
 */
export function checkNamed(catalogue: Catalogue, part: string, side: string | null): Check | null {
  const said = stems(part);
  const found = catalogue.stations.flatMap((station) => {
    const at = new Set([...stems(station.name), ...ANYWHERE]);
    return station.checks.flatMap((check) => {
      const own = sideIn(check.name);
      const has =
        own === null ? instancesOf(check).some((i) => i.includes(side ?? '')) : own === side;
      // A check of one side is meant when that side was said, and no other has a side.
      if (own !== null ? own !== side : side !== null && !has) return [];
      const length = Math.max(
        0,
        ...[check.name, ...check.say].map((n) => fits(stems(n), said, at)),
      );
      const always = check.required === 'always' ? 1 : 0;
      return length === 0 ? [] : [{ check, rank: length * 4 + (own === null ? 0 : 2) + always }];
    });
  });
  const top = Math.max(0, ...found.map((f) => f.rank));
  const best = found.filter((f) => f.rank === top);
  return best.length === 1 ? (best[0]?.check ?? null) : null;
}

/** Words before a name that make no other thing of it. */
const ANYWHERE = ['main', 'engine', 'aircraft', 'old', 'new', 'whole'];

/** How many words of a name were said, where they are its whole and the end of what was said; else 0. */
function fits(name: readonly string[], said: readonly string[], at: ReadonlySet<string>): number {
  if (name.length === 0 || name.length > said.length) return 0;
  const before = said.slice(0, said.length - name.length);
  const tail = said.slice(said.length - name.length);
  return tail.every((word, i) => word === name[i]) && before.every((w) => at.has(w))
    ? name.length
    : 0;
}

function stems(name: string): string[] {
  return (partIn(name) ?? '')
    .split(/[^a-z0-9]+/)
    .filter((w) => w !== '')
    .map((w) => SHORT.get(w) ?? w)
    .map((w) => (w.length > 3 ? w.replace(/s$/, '') : w));
}

/** Short names as they are said on a ramp. */
const SHORT: ReadonlyMap<string, string> = new Map([
  ['mag', 'magneto'],
  ['mags', 'magneto'],
  ['tire', 'tyre'],
  ['tires', 'tyre'],
  ['prop', 'propeller'],
  ['alt', 'alternator'],
  ['nav', 'position'],
  ['navigation', 'position'],
]);

function sideIn(name: string): string | null {
  return /\b(left|right)\b/i.exec(name)?.[1]?.toLowerCase() ?? null;
}

/** Words that a value follows: what is counted or numbered follows others. */
const MEASURES =
  /^(drops?|dropped|dropping|of|reads?|reading|shows?|showing|at|to|only|is|was|about|around|low|high|below|above|under|over|by|hot|runs?|pressure|temp|temperature|compression)$/i;

function valueIn(
  amounts: readonly AmountSaid[],
  words: readonly string[],
  check: Check | null,
): Fault['value'] {
  const value = amounts.find(
    ({ from, unit, over }) =>
      unit !== null ||
      over !== null ||
      MEASURES.test(bare(words[from - 1] ?? '')) ||
      endsClause(words[from - 1]),
  );
  if (value === undefined) return null;
  const measure =
    value.unit === null ? undefined : check?.measures.find((m) => m.unit === value.unit);
  return {
    measure: measure?.name ?? null,
    said: bare(words.slice(value.from, value.to).join(' ')),
    inUnit: value.value,
    unit: value.unit,
    limit: measure === undefined ? null : limitText(measure),
  };
}

function endsClause(word: string | undefined): boolean {
  return word !== undefined && /[,:]$/.test(word);
}

function bare(word: string): string {
  return word.replace(/^[\s\p{P}]+|[\s,.;:!?]+$/gu, '');
}
