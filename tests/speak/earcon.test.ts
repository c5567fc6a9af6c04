import { expect, test } from 'vitest';
import { componentsOf, EARCONS, samplesOf, secondsOf, type Earcon } from '#speak';

const all = Object.values(EARCONS);

/** Energy of a sound at a frequency (Goertzel), 1 for a full sine. */
function level(samples: Float32Array, rate: number, hz: number): number {
  const w = (2 * Math.PI * hz) / rate;
  let a = 0;
  let b = 0;
  for (const x of samples) [a, b] = [x + 2 * Math.cos(w) * a - b, a];
  return (2 * Math.sqrt(a * a + b * b - 2 * Math.cos(w) * a * b)) / samples.length;
}

// MIL-STD-1472E: signals between 500 and 3,000 Hz (read in the standards notes).
test.each(all)('$name: every component between 500 and 3,000 Hz', ({ notes }) => {
  for (const pitch of notes.flatMap((n) => [n.from, n.to])) {
    for (const hz of componentsOf(pitch)) {
      expect(hz).toBeGreaterThanOrEqual(500);
      expect(hz).toBeLessThanOrEqual(3000);
    }
  }
});

// FAA human-factors training page: four or more components in 1,000 to 4,000 Hz.
test.each(all)(
  '$name: at least four components above 1,000 Hz in every note, one not above',
  ({ notes }) => {
    for (const pitch of notes.flatMap((n) => [n.from, n.to])) {
      expect(componentsOf(pitch).filter((hz) => hz >= 1000).length).toBeGreaterThanOrEqual(4);
      // For people who hear no high notes. Common practice, no source.
      expect(Math.min(...componentsOf(pitch))).toBeLessThanOrEqual(1000);
    }
  },
);

test.each(all)(
  '$name: the sound itself has those components and nothing outside the band',
  (earcon) => {
    const rate = 16000;
    const samples = samplesOf(earcon, rate);
    for (const note of earcon.notes.filter((n) => n.from === n.to)) {
      // Without its swell and fade.
      const steady = samples.subarray(
        Math.round((note.at + 0.01) * rate),
        Math.round((note.at + note.seconds - 0.03) * rate),
      );
      for (const hz of componentsOf(note.from))
        expect(level(steady, rate, hz)).toBeGreaterThan(0.05);
    }
    let inside = 0;
    let outside = 0;
    for (let hz = 50; hz < 7900; hz += 10) {
      const energy = level(samples, rate, hz) ** 2;
      if (hz >= 450 && hz <= 3050) inside += energy;
      else outside += energy;
    }
    expect(outside / (inside + outside)).toBeLessThan(0.02);
    expect(samples.reduce((m, x) => Math.max(m, Math.abs(x)), 0)).toBeCloseTo(0.9, 5);
    expect(samples.length).toBe(Math.ceil((secondsOf(earcon) + 0.01) * rate));
  },
);

/** Rhythm as lengths and gaps in steps of 80 ms, which can be told apart in noise. */
function rhythm({ notes }: Earcon): string {
  return notes
    .map(
      (n, i) =>
        `${Math.round((n.at - (notes[i - 1]?.at ?? 0)) / 0.08)}:${Math.round(n.seconds / 0.08)}`,
    )
    .join(' ');
}
/** Contour: level, up or down within and between notes. */
function contour({ notes }: Earcon): string {
  const sign = (a: number, b: number) => (a === b ? '=' : a < b ? '/' : '\\');
  return notes
    .map((n, i) => (i === 0 ? '' : sign(notes[i - 1]?.to ?? 0, n.from)) + sign(n.from, n.to))
    .join('');
}

test('any two differ in rhythm and in contour, so that losing pitch loses nothing', () => {
  expect(new Set(all.map(rhythm)).size).toBe(all.length);
  expect(new Set(all.map(contour)).size).toBe(all.length);
  expect(Object.fromEntries(all.map((e) => [e.name, `${rhythm(e)} ${contour(e)}`])))
    .toMatchInlineSnapshot(`
    {
      "finding": "0:3 3:1 2:1 =\\=\\=",
      "not-understood": "0:2 3:2 ===",
      "question": "0:1 2:4 =//",
      "stopped": "0:6 8:6 \\==",
      "understood": "0:1 =",
    }
  `);
});

test('any two sound different below 1,000 Hz alone', () => {
  const low = all.map((e) =>
    e.notes
      .map((n) => `${Math.min(...componentsOf(n.from))}@${n.at.toFixed(2)}+${n.seconds}`)
      .join(),
  );
  expect(new Set(low).size).toBe(all.length);
});

test('short: an acknowledgement within 0.1 s, all within 1.2 s; vibrations differ too', () => {
  expect(secondsOf(EARCONS.understood)).toBeLessThanOrEqual(0.1);
  for (const earcon of all) expect(secondsOf(earcon)).toBeLessThanOrEqual(1.2);
  expect(new Set(all.map((e) => e.vibration.join())).size).toBe(all.length);
});
