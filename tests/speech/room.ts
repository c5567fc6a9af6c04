import { seeded } from './noise.ts';

/**
 * A made room: a direct sound, a few early reflections and a tail of noise that
 * dies away by 60 dB in `seconds` (Sabine's measure of a room). No real hangar was recorded.
 */
export function inRoom(
  speech: Float32Array,
  seconds: number,
  rate: number,
  seed: number,
): Float32Array {
  const random = seeded(seed);
  const tail = Math.round(seconds * rate);
  const impulse = new Float32Array(tail);
  impulse[0] = 1;
  for (let i = 0; i < 6; i++) {
    const at = Math.round((0.004 + random() * 0.03) * rate);
    impulse[at] = (impulse[at] ?? 0) + (random() - 0.5) * 0.7;
  }
  // The tail begins after the early reflections, 15 dB under the direct sound in power all told.
  const from = Math.round(0.03 * rate);
  for (let i = from; i < tail; i++)
    impulse[i] = (impulse[i] ?? 0) + (random() - 0.5) * 0.02 * 10 ** ((-3 * (i - from)) / tail);
  const out = new Float32Array(speech.length + tail);
  // Sparse enough in its loud part, and short: plain convolution is fast enough for a test.
  for (let k = 0; k < tail; k++) {
    const gain = impulse[k] as number;
    if (Math.abs(gain) < 1e-5) continue;
    for (let i = 0; i < speech.length; i++)
      out[i + k] = (out[i + k] as number) + gain * (speech[i] as number);
  }
  let peak = 0;
  for (const s of out) peak = Math.max(peak, Math.abs(s));
  return out.map((s) => (s * 0.5) / Math.max(peak, 1e-9));
}
