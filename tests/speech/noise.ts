/**
 * Noise for tests and benches, made anew from a seed each time. What a real
 * ramp sounds like was not recorded; the spectra below follow the plain
 * mechanics of each source and claim no more.
 */
export const NOISES = ['pink', 'engine', 'rotor'] as const;
export type Noise = (typeof NOISES)[number];

/** Small seeded generator of evenly spread numbers in [0, 1) (mulberry32, public domain). */
export function seeded(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4_294_967_296;
  };
}

/** Noise with equal power in each octave (Paul Kellet's filter, published as public domain; coefficients from memory). */
function pink(length: number, random: () => number): Float32Array {
  const out = new Float32Array(length);
  let [a, b, c, d, e, f, g] = [0, 0, 0, 0, 0, 0, 0];
  for (let i = 0; i < length; i++) {
    const white = random() * 2 - 1;
    a = 0.99886 * a + white * 0.0555179;
    b = 0.99332 * b + white * 0.0750759;
    c = 0.969 * c + white * 0.153852;
    d = 0.8665 * d + white * 0.3104856;
    e = 0.55 * e + white * 0.5329522;
    f = -0.7616 * f - white * 0.016898;
    out[i] = a + b + c + d + e + f + g + white * 0.5362;
    g = white * 0.115926;
  }
  return out;
}

/** A piston engine at idle: harmonics of the firing rate that drift a little, over broad exhaust and intake hiss. */
function engine(length: number, rate: number, random: () => number): Float32Array {
  const out = new Float32Array(length);
  const hiss = pink(length, random);
  const phases = Array.from({ length: 40 }, () => random() * 2 * Math.PI);
  let firing = 45 + random() * 15;
  const middle = firing;
  let turn = 0;
  for (let i = 0; i < length; i++) {
    firing += (random() - 0.5) * 0.02 + (middle - firing) * 0.0001;
    turn += (2 * Math.PI * firing) / rate;
    let sum = 0;
    for (let h = 1; h <= 40; h++) sum += Math.sin(turn * h + (phases[h - 1] ?? 0)) / h ** 0.9;
    out[i] = sum * 0.5 + (hiss[i] ?? 0) * 0.9;
  }
  return out;
}

/** A turning rotor: broad noise whose loudness swells with each blade, a low thump, and a gearbox whine. */
function rotor(length: number, rate: number, random: () => number): Float32Array {
  const out = new Float32Array(length);
  const wash = pink(length, random);
  const blades = 10 + random() * 8;
  const whine = 900 + random() * 900;
  for (let i = 0; i < length; i++) {
    const t = i / rate;
    const swell = Math.max(0, Math.sin(2 * Math.PI * blades * t)) ** 3;
    const thump = Math.sin(2 * Math.PI * blades * 3 * t) * swell;
    out[i] =
      (wash[i] ?? 0) * (0.5 + 1.2 * swell) + thump * 0.8 + Math.sin(2 * Math.PI * whine * t) * 0.12;
  }
  return out;
}

/** Seconds of noise × rate, mean power 1. */
export function noise(kind: Noise, length: number, rate: number, seed: number): Float32Array {
  const random = seeded(seed);
  const raw =
    kind === 'pink'
      ? pink(length, random)
      : kind === 'engine'
        ? engine(length, rate, random)
        : rotor(length, rate, random);
  const scale = 1 / Math.sqrt(power(raw));
  return raw.map((s) => s * scale);
}

export function power(samples: Float32Array): number {
  let sum = 0;
  for (const s of samples) sum += s * s;
  return sum / Math.max(1, samples.length);
}

/**
 * Speech over noise, `decibels` apart. The speech's power is that of its voiced
 * parts (20 ms frames within 30 dB of the loudest), so that pauses do not count.
 * The whole is kept below full scale.
 */
export function over(
  speech: Float32Array,
  kind: Noise,
  decibels: number,
  rate: number,
  seed: number,
): Float32Array {
  const frame = Math.round(rate * 0.02);
  const powers: number[] = [];
  for (let i = 0; i + frame <= speech.length; i += frame)
    powers.push(power(speech.subarray(i, i + frame)));
  const loudest = Math.max(...powers);
  const voiced = powers.filter((p) => p > loudest / 1000);
  const wanted = voiced.reduce((a, b) => a + b, 0) / Math.max(1, voiced.length);
  const gain = Math.sqrt(wanted / 10 ** (decibels / 10));
  const background = noise(kind, speech.length, rate, seed);
  const mixed = speech.map((s, i) => s + gain * (background[i] ?? 0));
  let peak = 0;
  for (const s of mixed) peak = Math.max(peak, Math.abs(s));
  return peak > 0.95 ? mixed.map((s) => (s * 0.95) / peak) : mixed;
}
