import type { Catalogue } from '#shared/catalogue';
import type { Circumstance } from '#shared/circumstance';
import { lexicon } from '../lexicon.ts';
import { phraseWords, type Token } from '../tokens.ts';
import { Trie } from '../trie.ts';
import { unable } from '../unable.ts';

/** What a row of words can be. */
export type Sense =
  | {
      kind: 'condition';
      id: string;
      weak: boolean;
      sign: string | null;
      checks: readonly string[] | null;
      /** Only where the check declares an aspect of it; where a good verdict fits as well, or ("asks") neither, it is asked about. */
      either?: 'fits' | 'asks';
    }
  | { kind: 'verdict'; id: string; weak: boolean; beside?: true }
  | { kind: 'severity'; severity: 'ground' | 'defer' | 'watch' | 'note' }
  | {
      kind:
        | 'correct'
        | 'retract'
        | 'setaside'
        | 'notfitted'
        | 'squawk'
        | 'everything'
        | 'same'
        | 'other'
        | 'figure';
    }
  | { kind: 'compared'; how: 'same' | 'worse' | 'better' | 'gone' }
  | { kind: 'circumstance'; circumstance: Circumstance };

/** The lexicon's phrases, with the catalogue's own signs among them. */
export function senseTrie(catalogue: Catalogue): Trie<Sense> {
  const trie = new Trie<Sense>();
  const { conditions, verdicts, severities, dialogue, sides, idioms } = lexicon();
  for (const phrase of idioms.figures) trie.add(phraseWords(phrase), { kind: 'figure' });
  for (const c of conditions) {
    const sense = { kind: 'condition', id: c.id, weak: false, sign: null, checks: null } as const;
    for (const phrase of new Set([...c.say, ...c.also, ...unable(c.cannot)]))
      trie.add(phraseWords(phrase), sense);
    for (const phrase of c.weak) trie.add(phraseWords(phrase), { ...sense, weak: true });
    for (const phrase of c.either)
      trie.add(phraseWords(phrase), { ...sense, weak: true, either: 'asks' });
  }
  for (const v of verdicts) {
    const sense = { kind: 'verdict', id: v.id } as const;
    for (const phrase of new Set([...v.say, ...v.also]))
      trie.add(phraseWords(phrase), { ...sense, weak: v.weak.includes(phrase) });
    for (const phrase of v.beside)
      trie.add(phraseWords(phrase), { ...sense, weak: true, beside: true });
  }
  for (const severity of ['ground', 'defer', 'watch', 'note'] as const) {
    for (const phrase of severities[severity])
      trie.add(phraseWords(phrase), { kind: 'severity', severity });
  }
  for (const kind of [
    'correct',
    'retract',
    'setaside',
    'notfitted',
    'squawk',
    'everything',
  ] as const) {
    for (const phrase of dialogue[kind]) trie.add(phraseWords(phrase), { kind });
  }
  for (const kind of ['same', 'other'] as const) {
    for (const phrase of sides[kind]) trie.add(phraseWords(phrase), { kind });
  }
  for (const how of ['same', 'worse', 'better', 'gone'] as const) {
    for (const phrase of dialogue.compared[how])
      trie.add(phraseWords(phrase), { kind: 'compared', how });
  }
  for (const [circumstance, say] of Object.entries(dialogue.circumstance) as [
    Circumstance,
    string[],
  ][]) {
    for (const phrase of say) trie.add(phraseWords(phrase), { kind: 'circumstance', circumstance });
  }
  addSigns(trie, catalogue);
  return trie;
}

function addSigns(trie: Trie<Sense>, catalogue: Catalogue): void {
  const general = new Map(catalogue.signs.map((s) => [s.id, s]));
  const holders = new Map<string, string[]>();
  const own: { sign: (typeof catalogue.signs)[number]; checks: string[] | null }[] = [];
  for (const station of catalogue.stations) {
    for (const check of station.checks) {
      for (const sign of check.signs) {
        if (typeof sign === 'string') holders.set(sign, [...(holders.get(sign) ?? []), check.id]);
        else own.push({ sign, checks: [check.id] });
      }
    }
  }
  for (const [id, sign] of general)
    own.push({ sign, checks: sign.anywhere ? null : (holders.get(id) ?? []) });
  const words = new Map<string, string>();
  for (const c of lexicon().conditions)
    for (const phrase of [...c.also, ...c.say]) words.set(phrase, c.id);
  for (const { sign, checks } of own) {
    for (const phrase of [sign.name, ...sign.say]) {
      const list = phraseWords(phrase);
      const id =
        sign.conditions[0] ??
        list.map((w) => words.get(w)).find((c) => c !== undefined) ??
        'damage';
      trie.add(list, { kind: 'condition', id, weak: false, sign: sign.id, checks });
    }
  }
}

/** A name never runs over a full stop or a long pause. */
export function crosses(tokens: readonly Token[], from: number, to: number): boolean {
  for (let i = from + 1; i < to; i += 1) if (tokens[i]?.gap === 2) return true;
  return false;
}
