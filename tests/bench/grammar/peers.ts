import uFuzzy from '@leeoniya/ufuzzy';
import { doubleMetaphone } from 'double-metaphone';
import { distance } from 'fastest-levenshtein';
import Fuse from 'fuse.js';
import MiniSearch from 'minisearch';
import { instancesOf, type Catalogue } from '#shared/catalogue';
import type { Claim, Label, Utterance } from '../../corpus/format.ts';
import { plainWords } from '../channel.ts';

/**
 * What people would pick instead: general string matching over sliding windows
 * of one to five words. Each peer gets the catalogue's names and other names,
 * the same help with sides and stations, the same simple rules for what is
 * abnormal, denied or only talk, and its best threshold on the work part.
 */
export interface Phrase {
  readonly text: string;
  readonly checks: readonly string[];
}

/** Score of a window against its best phrase: 0 perfect, 1 nothing in common. */
export type Matcher = (window: string) => { phrase: Phrase; cost: number } | null;

export interface Peer {
  readonly name: string;
  readonly thresholds: readonly number[];
  build(phrases: readonly Phrase[]): Matcher;
}

const WINDOW = 5;
/** Above this no peer's threshold is searched. */
const FARTHEST = 0.85;

/** The catalogue's names and other names; with `plurals`, each in the plural as well. */
export function phrasesOf(catalogue: Catalogue, plurals: boolean): Phrase[] {
  const byText = new Map<string, string[]>();
  for (const check of catalogue.stations.flatMap((s) => s.checks)) {
    for (const name of [check.name, ...check.say]) {
      const singular = plainWords(name).join(' ');
      for (const text of new Set([singular, plurals ? plural(singular) : singular])) {
        byText.set(text, [...(byText.get(text) ?? []), check.id]);
      }
    }
  }
  return [...byText].map(([text, checks]) => ({ text, checks: [...new Set(checks)] }));
}

function plural(text: string): string {
  return text.endsWith('s') ? text : `${text}s`;
}

function best(phrases: readonly Phrase[], cost: (phrase: Phrase) => number): ReturnType<Matcher> {
  let found: ReturnType<Matcher> = null;
  for (const phrase of phrases) {
    const c = cost(phrase);
    if (found === null || c < found.cost) found = { phrase, cost: c };
  }
  return found;
}

const codeOf = (text: string) =>
  text
    .split(' ')
    .map((w) => doubleMetaphone(w)[0])
    .join('');

export const PEERS: readonly Peer[] = [
  {
    name: 'exact phrase',
    thresholds: [0],
    build: (phrases) => {
      const map = new Map(phrases.map((p) => [p.text, p]));
      return (window) => {
        const phrase = map.get(window);
        return phrase === undefined ? null : { phrase, cost: 0 };
      };
    },
  },
  {
    name: 'fuse.js',
    thresholds: [0.1, 0.15, 0.2, 0.25, 0.3, 0.35, 0.4],
    build: (phrases) => {
      const fuse = new Fuse([...phrases], {
        keys: ['text'],
        includeScore: true,
        threshold: 0.5,
        ignoreLocation: true,
      });
      return (window) => {
        const hit = fuse.search(window, { limit: 1 })[0];
        if (hit === undefined) return null;
        // Fuse finds the window inside the phrase; a window much shorter is no name.
        const gap = Math.abs(hit.item.text.length - window.length) / hit.item.text.length;
        return { phrase: hit.item, cost: Math.max(hit.score ?? 0, gap / 2) };
      };
    },
  },
  {
    name: 'minisearch',
    thresholds: [0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8],
    build: (phrases) => {
      const search = new MiniSearch<{ id: number; text: string }>({ fields: ['text'] });
      search.addAll(phrases.map((p, id) => ({ id, text: p.text })));
      const options = { fuzzy: 0.25, combineWith: 'AND' as const };
      const full = phrases.map((p) => {
        const own = search.search(p.text, options)[0];
        return own?.score ?? 1;
      });
      return (window) => {
        const hit = search.search(window, options)[0];
        if (hit === undefined) return null;
        const id = Number(hit.id);
        const phrase = phrases[id];
        if (phrase === undefined) return null;
        const gap = Math.abs(phrase.text.length - window.length) / phrase.text.length;
        return { phrase, cost: Math.max(0, 1 - hit.score / (full[id] ?? 1), gap / 2) };
      };
    },
  },
  {
    name: 'uFuzzy',
    thresholds: [0.1, 0.2, 0.3, 0.4, 0.5],
    build: (phrases) => {
      const search = new uFuzzy({
        intraMode: 1,
        intraIns: 1,
        intraSub: 1,
        intraTrn: 1,
        intraDel: 1,
      });
      const texts = phrases.map((p) => p.text);
      return (window) => {
        const found = search.filter(texts, window);
        if (found === null || found.length === 0) return null;
        return best(
          found.flatMap((i) => phrases[i] ?? []),
          (p) => Math.abs(p.text.length - window.length) / p.text.length,
        );
      };
    },
  },
  {
    name: 'edit distance',
    thresholds: [0.05, 0.1, 0.15, 0.2, 0.25, 0.3, 0.35],
    build: (phrases) => (window) =>
      best(phrases, (p) => {
        const longest = Math.max(p.text.length, window.length);
        return Math.abs(p.text.length - window.length) > longest / 2
          ? 1
          : distance(p.text, window) / longest;
      }),
  },
  {
    name: 'double metaphone',
    thresholds: [0, 0.1, 0.15, 0.2, 0.25, 0.3],
    build: (phrases) => {
      const coded = phrases.map((phrase) => ({ phrase, code: codeOf(phrase.text) }));
      return (window) => {
        const code = codeOf(window);
        let found: ReturnType<Matcher> = null;
        for (const { phrase, code: other } of coded) {
          const longest = Math.max(code.length, other.length, 1);
          if (Math.abs(code.length - other.length) > longest / 2) continue;
          const cost = distance(code, other) / longest;
          if (found === null || cost < found.cost) found = { phrase, cost };
        }
        return found;
      };
    },
  },
];

/** Remembers windows: they recur between utterances. Not for timing. */
export function remembering(matcher: Matcher): Matcher {
  const kept = new Map<string, ReturnType<Matcher>>();
  return (window) => {
    const old = kept.get(window);
    if (old !== undefined) return old;
    const found = matcher(window);
    kept.set(window, found);
    return found;
  };
}

interface Hit {
  readonly from: number;
  readonly to: number;
  readonly phrase: Phrase;
  readonly cost: number;
}

/** The best matches of an utterance at any cost, none overlapping another that is better. */
export function matchesOf(words: readonly string[], matcher: Matcher): Hit[] {
  const hits: Hit[] = [];
  for (let from = 0; from < words.length; from += 1) {
    for (let to = from + 1; to <= Math.min(words.length, from + WINDOW); to += 1) {
      const window = words.slice(from, to).join(' ');
      // A window of two letters matches everything; none of the peers gains by it.
      if (window.length < 3) continue;
      const hit = matcher(window);
      if (hit !== null && hit.cost < FARTHEST) hits.push({ from, to, ...hit });
    }
  }
  return hits;
}

/** Non-overlapping hits up to a threshold: cheapest first, then longest. */
export function chosen(hits: readonly Hit[], threshold: number): Hit[] {
  const kept: Hit[] = [];
  const order = [...hits]
    .filter((h) => h.cost <= threshold)
    .sort((a, b) => a.cost - b.cost || b.to - b.from - (a.to - a.from));
  for (const hit of order) {
    if (kept.every((k) => hit.to <= k.from || hit.from >= k.to)) kept.push(hit);
  }
  return kept.sort((a, b) => a.from - b.from);
}

const ABNORMAL =
  /^(crack|dent|nick|chaf|fret|corro|leak|seep|weep|loose|slack|missing|broken|worn|frayed|bent|stiff|flat|cut|torn|wrinkl|delam|play|scratch|goug|blocked|dirty|inop|damage|kink|bulg|unlatch|pitted|groov)/;
const DENIED =
  /^(no|not|without|nothing|none|negative|isn't|aren't|doesn't|don't|can't|never|neither|nor|wasn't|didn't|hasn't|haven't|won't|cannot|nil)$/;
/** Words that end a denial, as published lists of negation cues have them. */
const ENDS = /^(but|except|however|though|although|apart)$/;
const TALK =
  /\b(if|want|looking for|make sure|should|would|suppose|imagine|i'll|going to|last (week|time|month|flight)|yesterday|said|told|used to|always|ever)\b|\?$/;

/** Claims by simple rules: side or station picks among checks of one name; bad words not denied are findings. */
export function peerLabels(
  utterance: Pick<Utterance, 'at'>,
  text: string,
  words: readonly string[],
  hits: readonly Hit[],
  catalogue: Catalogue,
): Label[] {
  const talk = TALK.test(text.toLowerCase().trim());
  return hits.map((hit, i): Claim => {
    const id = resolve(hit, words, catalogue, utterance.at);
    const check = catalogue.stations.flatMap((s) => s.checks).find((c) => c.id === id);
    const clause = words.slice(i === 0 ? 0 : hit.from, hits[i + 1]?.from ?? words.length);
    const denied = (j: number) => {
      const before = clause.slice(Math.max(0, j - 4), j);
      return before
        .slice(before.findLastIndex((w) => ENDS.test(w)) + 1)
        .some((d) => DENIED.test(d));
    };
    const bad = clause.some((w, j) => ABNORMAL.test(w) && !denied(j));
    return {
      kind: 'claim',
      force: talk ? 'teaching' : 'result',
      checks: [id],
      station: null,
      except: [],
      unplaced: false,
      instances:
        check === undefined
          ? []
          : instancesNear(
              [...instancesOf(check)],
              words.slice(Math.max(0, hit.from - 2), hit.to + 2),
            ),
      good: bad ? null : true,
      actOnly: false,
      aspects: check?.aspects.map((a) => a.id).slice(0, 1) ?? [],
      signs: bad
        ? [{ id: 'damage', present: true, aspects: [], degree: null, count: null, of: null }]
        : [],
      amounts: [],
      acts: [],
      severity: null,
      amends: false,
      asked: false,
    };
  });
}

const ORDINALS: Readonly<Record<string, RegExp>> = {
  '1': /^(1|one|first)$/,
  '2': /^(2|two|second)$/,
  '3': /^(3|three|third)$/,
  '4': /^(4|four|fourth)$/,
};

/** The places whose words stand beside the name; all of them when none does. */
function instancesNear(all: readonly string[], near: readonly string[]): string[] {
  const named = all.filter((instance) =>
    instance.split(' ').every((w) => near.some((n) => n === w || ORDINALS[w]?.test(n) === true)),
  );
  return named.length > 0 ? named : [...all];
}

function resolve(
  hit: Hit,
  words: readonly string[],
  catalogue: Catalogue,
  at: string | undefined,
): string {
  const stationOf = (id: string) =>
    catalogue.stations.find((s) => s.checks.some((c) => c.id === id));
  const near = words.slice(Math.max(0, hit.from - 2), hit.to);
  const bySide = hit.phrase.checks.find((id) => {
    const side = plainWords(stationOf(id)?.name ?? '')[0] ?? '';
    return near.includes(side);
  });
  const byPlace = hit.phrase.checks.find((id) => stationOf(id)?.id === at);
  return bySide ?? byPlace ?? hit.phrase.checks[0] ?? '';
}
