import { lexicon } from '../lexicon.ts';
import { aspectsOf } from '../aspects.ts';
import { against, oppositeOf, type ConditionMatch } from '../matches/heardas.ts';
import type { Member } from '../matches/roster.ts';
import { stem } from '../names.ts';
import { BEFORE, flagOf, type Around } from './around.ts';
import { sideRow } from './trail.ts';

/** Features of a candidate's pairs: with each condition that was heard, with each of its aspects and places. */

/** Distance from the candidate's own words, in words; null where none was named. */
function apart(own: readonly number[], from: number, to: number): number | null {
  let best: number | null = null;
  for (const token of own) {
    const d = token < from ? from - token : token >= to ? to - 1 - token : 0;
    if (best === null || Math.abs(d) < Math.abs(best)) best = d;
  }
  return best;
}

export function conditionRow(
  c: ConditionMatch,
  member: Member | null,
  own: readonly number[],
  scene: Around,
): number[] {
  const check = member?.check ?? null;
  const fit = check === null ? 0 : aspectsOf(check).fit(c.id);
  const far = apart(own, c.from, c.to);
  const parted =
    far !== null &&
    scene.now.tokens
      .slice(...(far > 0 ? [c.from - far + 1, c.from + 1] : [c.to, c.to - far]))
      .some((t) => t.gap > 0);
  const here = check !== null && c.checks?.includes(check.id) === true;
  return [
    flagOf(fit === 2),
    flagOf(fit === 1),
    flagOf(c.weak),
    flagOf(c.either),
    flagOf(c.sign !== null && (here || c.checks === null)),
    flagOf(c.sign !== null && c.checks !== null && !here),
    flagOf(c.denials > 0),
    flagOf(c.denials > 1),
    flagOf(own.some((t) => t >= c.from && t < c.to)),
    far === null ? 1 : Math.min(Math.abs(far), 12) / 12,
    flagOf(far !== null && far > 0),
    flagOf(far === null),
    flagOf(parted),
    (c.to - c.from) / 4,
  ];
}

export function aspectRow(id: string, member: Member, scene: Around): number[] {
  const check = member.check;
  if (check === null) return [];
  const map = aspectsOf(check);
  const kinds = map.kinds(id);
  const words = scene.now.tokens.map((t) => stem(t.word));
  const named = (aspect: string): boolean =>
    map.phrases.some(
      (p) =>
        p.aspect === aspect && words.some((_, i) => p.words.every((w, k) => words[i + k] === w)),
    );
  const others = map.ids.some((a) => a !== id && named(a));
  return [
    flagOf(named(id)),
    flagOf(others),
    flagOf(scene.kinds.some((k) => kinds.has(k.kind))),
    flagOf(map.ids.some((a) => a !== id && scene.kinds.some((k) => map.kinds(a).has(k.kind)))),
    flagOf(scene.conditions.some((c) => map.about(c.id).includes(id))),
    flagOf(map.general === id),
    flagOf(map.ids.length === 1),
    map.ids.length / 6,
    flagOf(kinds.size === 0),
    ...aspectKinds().map((k) => flagOf(kinds.has(k))),
  ];
}

/** The words that name an aspect, or a verdict or condition of its kind. */
export function aspectAt(id: string, member: Member, scene: Around): number[] {
  const { check } = member;
  if (check === null) return [];
  const map = aspectsOf(check);
  const kinds = map.kinds(id);
  const words = scene.now.tokens.map((t) => stem(t.word));
  const out = new Set<number>();
  const put = (from: number, to: number): void => {
    for (let i = from; i < to; i += 1) out.add(i);
  };
  for (const p of map.phrases)
    if (p.aspect === id)
      words.forEach((_, i) => {
        if (p.words.every((w, k) => words[i + k] === w)) put(i, i + p.words.length);
      });
  for (const k of scene.kinds) if (kinds.has(k.kind)) put(k.from, k.to);
  for (const c of scene.conditions) if (map.about(c.id).includes(id)) put(c.from, c.to);
  return [...out].sort((a, b) => a - b);
}

/** The words that say a place: its own, its number, or its order. */
export function placeAt(i: number, member: Member, scene: Around): number[] {
  const words = member.instanceWords[i] ?? [];
  const { tokens, places } = scene.now;
  const number = words.length === 1 && /^\d+$/.test(words[0] ?? '') ? Number(words[0]) : null;
  const last = i === member.instances.length - 1;
  // A place of two words ("upper left") is where both are near; one alone is one of several.
  const shared = (w: string): boolean =>
    words.length > 1 && member.instanceWords.filter((ws) => ws.includes(w)).length > 1;
  const spoken = tokens.map((t, k) => places.sides[k] ?? stem(t.word));
  return tokens.flatMap((_, k) => {
    const word = spoken[k] ?? '';
    const order = places.orders[k] ?? null;
    const named =
      words.includes(word) &&
      places.ofAll[k] !== true &&
      (!shared(word) || words.every((w) => [-2, -1, 0, 1, 2].some((d) => spoken[k + d] === w)));
    const counted = number !== null && places.counts[k] === number && places.ofAll[k] !== true;
    return named || counted || order === i || (order === -1 && last) ? [k] : [];
  });
}

export function placeRow(
  i: number,
  member: Member,
  own: readonly number[],
  scene: Around,
): number[] {
  const words = member.instanceWords[i] ?? [];
  const place = member.instances[i] ?? '';
  const { tokens, places } = scene.now;
  const spoken = tokens.map((t, k) => places.sides[k] ?? stem(t.word));
  const plainNumber = words.length === 1 && /^\d+$/.test(words[0] ?? '');
  const at = (k: number): boolean =>
    plainNumber
      ? places.counts[k] === Number(words[0]) && places.ofAll[k] !== true
      : words.includes(spoken[k] ?? '');
  const all =
    words.every((w) => spoken.includes(w)) || (plainNumber && spoken.some((_, k) => at(k)));
  const near = own.some((t) => [-3, -2, -1, 0, 1, 2, 3].some((d) => at(t + d)));
  const set = new Set(words);
  const clash = spoken.some((w) => against(w, set));
  const order = places.orders.some(
    (n) => n === i || (n === -1 && i === member.instances.length - 1),
  );
  const ordered = places.orders.some((n) => n !== null);
  const done = scene.said[member.key] ?? [];
  const last = scene.turns.slice(0, BEFORE).map((t) => t.said[member.key]?.places ?? []);
  const lastSame = last.find((l) => l.length > 0) ?? [];
  const anyPlace = Object.values(scene.turns[0]?.said ?? {}).flatMap((s) => s.places);
  const first = member.instances.find((p) => !done.includes(p));
  const before = scene.earlier[0]?.places.sides ?? [];
  const mirrored = words.some((w) => {
    const o = oppositeOf(w);
    return o !== null && lastSame.some((p) => stemsOf(p).includes(o));
  });
  const lastPlace = member.instances.indexOf(lastSame.at(-1) ?? '');
  return [
    flagOf(all),
    flagOf(near),
    flagOf(words.some((w) => spoken.includes(w))),
    flagOf(clash),
    flagOf(order),
    flagOf(ordered),
    flagOf(places.all.some(Boolean)),
    flagOf(places.other.some(Boolean)),
    flagOf(own.some((t) => places.plural[t] === true)),
    flagOf(done.includes(place)),
    flagOf(lastSame.includes(place)),
    flagOf(lastSame.length > 0),
    flagOf(anyPlace.includes(place)),
    flagOf(before.some((s) => s !== null && words.includes(s))),
    member.instances.length / 8,
    flagOf(places.counts.some((n) => n === member.instances.length)),
    flagOf(first === place),
    flagOf(mirrored),
    flagOf(plainNumber),
    flagOf(done.length === 0),
    flagOf(member.check?.repeat?.plural === true),
    flagOf(spoken.some((w) => member.instanceWords.some((ws) => ws.includes(w)))),
    ...sideRow(scene.trail.said, set),
    ...sideRow(scene.trail.settled, set),
    flagOf(lastPlace >= 0 && i === lastPlace + 1),
    flagOf(inRange(i, member.instances.length, scene)),
    i / 8,
  ];
}

/** "The first three", "the last two", "one to four": whether the place with this number is among them. */
function inRange(i: number, all: number, scene: Around): boolean {
  const { tokens, places } = scene.now;
  return tokens.some((_, k) => {
    const count = places.counts[k + 1] ?? null;
    const order = places.orders[k] ?? null;
    if (count !== null && order === 0) return i < count;
    if (count !== null && order === -1) return i >= all - count;
    const from = places.counts[k] ?? null;
    const to = places.counts[k + 2] ?? null;
    const joined = lexicon().numbers.upto.includes(tokens[k + 1]?.word ?? '');
    return joined && from !== null && to !== null && i + 1 >= from && i + 1 <= to;
  });
}

const stemsOf = (place: string): string[] => place.toLowerCase().split(/\s+/).map(stem);

let kindsOfAspect: readonly string[] | null = null;
function aspectKinds(): readonly string[] {
  kindsOfAspect ??= lexicon().aspects.map((a) => a.id);
  return kindsOfAspect;
}
