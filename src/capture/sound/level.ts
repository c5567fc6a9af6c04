/** Loudness of a block, 0 (silence) to 1 (full scale): root mean square, on a scale of 60 dB. */
export function loudness(samples: Float32Array): number {
  let sum = 0;
  for (const x of samples) sum += x * x;
  const decibels = 10 * Math.log10(sum / Math.max(1, samples.length) + 1e-12);
  return Math.min(1, Math.max(0, 1 + decibels / 60));
}
