import type { Ear } from '../../grammar/sound/ear.ts';
import { FINAL_S, UNIT } from '../../grammar/sound/costs.ts';
import { dearest, shareNeeded, type HeardAs } from '../../grammar/sound/hear.ts';
import { soundsOf } from '../../grammar/sound/likeness.ts';
import {
  CONFUSION,
  LOSS,
  PHONE_CLASS,
  PHONE_COUNT,
  phoneIndex,
} from '../../grammar/sound/phones.ts';
import type { Sounding } from '../../grammar/sound/shapes.ts';
import { soundOf } from '../../grammar/sound/sounds.ts';

const S = phoneIndex('S');
const Z = phoneIndex('Z');
const isS = (phone: number | undefined) => phone === S || phone === Z;
const cost = (weight: number | undefined) => Math.round((weight ?? 1) * UNIT);

/**
 * The slow reference for `Listener`: every pronunciation of every phrase is aligned whole
 * from every word edge with the plain recurrence (Sellers 1980, "The theory and computation
 * of evolutionary distances: pattern recognition"; from memory), nothing left out.
 */
export function hearAll<T>(
  phrases: readonly Sounding<T>[],
  ear: Ear,
  words: readonly string[],
  loose: boolean,
): HeardAs<T>[] {
  const { stream, begins, ends, place } = soundOf(words, 0, words.length, ear);
  const out: HeardAs<T>[] = [];
  for (const phrase of phrases) {
    const done = new Set<string>();
    for (const name of soundsOf(phrase.words, ear)) {
      const n = name.length;
      if (n < 3 || done.has(name.join(' '))) continue;
      done.add(name.join(' '));
      const found: { from: number; to: number; cost: number }[] = [];
      // The cheapest beginning for each end; of equals, the one met first in the recurrence.
      let before = Array.from({ length: stream.length + 1 }, (_, j) => ({
        cost: (begins[j] ?? -1) < 0 ? Infinity : 0,
        start: begins[j] ?? -1,
      }));
      for (let i = 1; i <= n; i += 1) {
        const want = name[i - 1] ?? 0;
        const last = i === n;
        const lost = last && isS(want) ? FINAL_S : cost(LOSS[want]);
        const now: typeof before = [];
        for (let j = 0; j <= stream.length; j += 1) {
          const heard = stream[j - 1] ?? 0;
          let best = { cost: Infinity, start: -1 };
          const across = before[j - 1];
          if (across !== undefined)
            best = {
              cost: across.cost + cost(CONFUSION[want * PHONE_COUNT + heard]),
              start: across.start,
            };
          const left = now[j - 1];
          const put = last && isS(heard) ? FINAL_S : cost(LOSS[heard]);
          if (left !== undefined && left.cost + put < best.cost)
            best = { cost: left.cost + put, start: left.start };
          const up = before[j];
          if (up !== undefined && up.cost + lost < best.cost)
            best = { cost: up.cost + lost, start: up.start };
          now.push(best);
        }
        before = now;
      }
      before.forEach((end, j) => {
        const to = ends[j] ?? -1;
        if (to < 0 || end.cost > dearest(n, loose) || end.start >= to) return;
        const own = classThrees(name, 0, n);
        const there = classThrees(stream, place[end.start] ?? 0, place[to] ?? 0);
        const both = [...own].filter((t) => there.has(t)).length;
        if (both >= own.size * shareNeeded(n, loose))
          found.push({ from: end.start, to, cost: end.cost });
      });
      found.sort((a, b) => a.cost - b.cost);
      const kept: typeof found = [];
      for (const hit of found) {
        if (kept.some((k) => k.from < hit.to && hit.from < k.to)) continue;
        kept.push(hit);
        out.push({
          from: hit.from,
          to: hit.to,
          item: phrase.item,
          match: 1 - hit.cost / UNIT / n,
        });
      }
    }
  }
  return out;
}

function classThrees(phones: Uint8Array, from: number, to: number): Set<string> {
  const rough = [...phones.slice(from, to)].map((p) => PHONE_CLASS[p]);
  return new Set(rough.slice(2).map((_, i) => rough.slice(i, i + 3).join(' ')));
}
