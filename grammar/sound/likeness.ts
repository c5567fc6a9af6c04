import type { Ear } from './ear.ts';
import { CONFUSION, LOSS, PHONE_COUNT } from './phones.ts';

/** The sounds of a phrase: first pronunciations joined, and one variant for each other one of a word. */
export function soundsOf(words: readonly string[], ear: Ear): Uint8Array[] {
  const all = words.map((w) => ear.of(w));
  const join = (pick: readonly Uint8Array[]): Uint8Array => {
    const out = new Uint8Array(pick.reduce((n, p) => n + p.length, 0));
    let at = 0;
    for (const part of pick) {
      out.set(part, at);
      at += part.length;
    }
    return out;
  };
  const first = all.map((v) => v[0] ?? new Uint8Array(0));
  const out = [join(first)];
  all.forEach((variants, i) => {
    for (const other of variants.slice(1))
      out.push(join(first.map((p, k) => (k === i ? other : p))));
  });
  return out.slice(0, 4);
}

/** How alike two rows of phones sound, 0 to 1, over the longer of them. */
export function likeness(a: Uint8Array, b: Uint8Array): number {
  const n = a.length;
  const m = b.length;
  if (n === 0 || m === 0) return 0;
  let before = new Float32Array(m + 1);
  for (let j = 1; j <= m; j += 1) before[j] = (before[j - 1] ?? 0) + (LOSS[b[j - 1] ?? 0] ?? 1);
  for (let i = 1; i <= n; i += 1) {
    const now = new Float32Array(m + 1);
    now[0] = (before[0] ?? 0) + (LOSS[a[i - 1] ?? 0] ?? 1);
    for (let j = 1; j <= m; j += 1) {
      now[j] = Math.min(
        (before[j - 1] ?? 0) + (CONFUSION[(a[i - 1] ?? 0) * PHONE_COUNT + (b[j - 1] ?? 0)] ?? 1),
        (before[j] ?? 0) + (LOSS[a[i - 1] ?? 0] ?? 1),
        (now[j - 1] ?? 0) + (LOSS[b[j - 1] ?? 0] ?? 1),
      );
    }
    before = now;
  }
  return Math.max(0, 1 - (before[m] ?? 0) / Math.max(n, m));
}
