import { worse, type Severity } from '#shared/severity';
import { numbersIn } from './numbers.ts';
import { severitiesIn } from './readings/said.ts';
import { tokensOf } from './tokens.ts';
import { unitTrie } from './units.ts';

/** A number said in free text, with its unit where one was said. */
export interface AmountFound {
  /** Positions [from, to) in the words of the text, split at blanks; the unit is among them. */
  readonly from: number;
  readonly to: number;
  readonly value: number;
  /** "sixty over eighty": what it is out of; null where nothing is. */
  readonly over: number | null;
  /** UCUM code; null when no unit was said. */
  readonly unit: string | null;
}

/** Every number of a text, in reading order. Which of them are values and which are counts is for the caller. */
export function amountsIn(text: string): AmountFound[] {
  const { tokens } = tokensOf({ text: text.replace(/(\d)\s*\/\s*(\d)/g, '$1 over $2'), words: [] });
  const words = tokens.map((t) => t.word);
  const units = unitTrie();
  const out: AmountFound[] = [];
  const numbers = numbersIn(words);
  for (let i = 0; i < numbers.length; i += 1) {
    const number = numbers[i];
    if (number === undefined) continue;
    const next = numbers[i + 1];
    const over =
      words[number.to] === 'over' && next !== undefined && next.from === number.to + 1
        ? next
        : null;
    if (over !== null) i += 1;
    const end = over?.to ?? number.to;
    const unit = units.longest(words, end);
    const last = unit?.to ?? end;
    out.push({
      from: tokens[number.from]?.at ?? 0,
      to: (tokens[last - 1]?.at ?? 0) + 1,
      value: number.value,
      over: over?.value ?? null,
      unit: unit?.item[0] ?? null,
    });
  }
  return out;
}

/** The severity that a free text says, the worst of several; null when it says none. */
export function severityIn(text: string): Severity | null {
  const { tokens } = tokensOf({ text, words: [] });
  return severitiesIn(tokens).reduce(worse, null as Severity | null);
}
