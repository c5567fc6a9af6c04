/**
 * Discrete Fourier transform in place, radix 2 (Cooley and Tukey 1965).
 * `size` is a power of two; the arrays hold real and imaginary parts.
 */
export interface Fft {
  forward(re: Float64Array, im: Float64Array): void;
  /** Scaled by 1/size, so that it undoes `forward`. */
  inverse(re: Float64Array, im: Float64Array): void;
}

export function createFft(size: number): Fft {
  const bits = Math.log2(size);
  if (!Number.isInteger(bits)) throw new Error(`${String(size)} is not a power of two.`);
  const order = new Uint32Array(size);
  for (let i = 0; i < size; i++) {
    let r = 0;
    for (let b = 0; b < bits; b++) if ((i >> b) & 1) r |= 1 << (bits - 1 - b);
    order[i] = r;
  }
  const cos = Float64Array.from({ length: size / 2 }, (_, i) => Math.cos((2 * Math.PI * i) / size));
  const sin = Float64Array.from({ length: size / 2 }, (_, i) => Math.sin((2 * Math.PI * i) / size));

  function run(re: Float64Array, im: Float64Array, sign: number): void {
    for (let i = 0; i < size; i++) {
      const j = order[i] as number;
      if (j <= i) continue;
      const r = re[i] as number;
      re[i] = re[j] as number;
      re[j] = r;
      const m = im[i] as number;
      im[i] = im[j] as number;
      im[j] = m;
    }
    for (let width = 2; width <= size; width *= 2) {
      const half = width / 2;
      const step = size / width;
      for (let from = 0; from < size; from += width)
        for (let k = 0; k < half; k++) {
          const a = from + k;
          const b = a + half;
          const c = cos[k * step] as number;
          const s = sign * (sin[k * step] as number);
          const tr = (re[b] as number) * c - (im[b] as number) * s;
          const ti = (re[b] as number) * s + (im[b] as number) * c;
          re[b] = (re[a] as number) - tr;
          im[b] = (im[a] as number) - ti;
          re[a] = (re[a] as number) + tr;
          im[a] = (im[a] as number) + ti;
        }
    }
  }

  return {
    forward: (re, im) => run(re, im, -1),
    inverse(re, im) {
      run(re, im, 1);
      for (let i = 0; i < size; i++) {
        re[i] = (re[i] as number) / size;
        im[i] = (im[i] as number) / size;
      }
    },
  };
}
