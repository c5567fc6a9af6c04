import { lexicon } from './lexicon.ts';
import type { Names } from './names.ts';

/** A phrase that a recogniser should expect, and how much (0 to 10, as in the browser's speech API). */
export interface BiasPhrase {
  readonly phrase: string;
  readonly boost: number;
}

/** Names first, then the words of findings, then everyday verdicts: the rarer the word, the more help it needs. */
const BOOST = { name: 7, station: 5, condition: 4, verdict: 2, command: 3 };
const CONDITION_FORMS = 6;
const VERDICT_FORMS = 8;

export function biasPhrases(names: Names): BiasPhrase[] {
  const out = new Map<string, number>();
  const add = (phrase: string, boost: number): void => {
    const key = phrase.toLowerCase();
    out.set(key, Math.max(out.get(key) ?? 0, boost));
  };
  for (const entry of names.checks) for (const name of entry.names) add(name, BOOST.name);
  for (const station of names.stations.values())
    for (const name of [station.name, ...station.say]) add(name, BOOST.station);
  const { conditions, verdicts, commands } = lexicon();
  for (const c of conditions)
    for (const say of c.say.slice(0, CONDITION_FORMS)) add(say, BOOST.condition);
  for (const v of verdicts)
    for (const say of v.say.slice(0, VERDICT_FORMS)) add(say, BOOST.verdict);
  for (const say of Object.values(commands))
    for (const phrase of say.slice(0, 2)) add(phrase, BOOST.command);
  return [...out].map(([phrase, boost]) => ({ phrase, boost })).sort((a, b) => b.boost - a.boost);
}
