import { expect, test } from 'vitest';
import { convert } from '../../grammar/units.ts';
import { convert as benchConvert } from '../bench/grammar/ucum.ts';

/**
 * Conversion factors of NIST Special Publication 811 (2008), Appendix B.8.
 * Values from memory, seven figures as printed there; the pound-force per square
 * inch, gallon, quart and inch of mercury were seen again in secondary tables.
 * "exact" marks the factors that SP 811 prints in bold.
 */
const FACTORS: readonly (readonly [string, string, string, number, boolean])[] = [
  ['pound-force per square inch', '[psi]', 'Pa', 6.894757e3, false],
  ['gallon (US)', '[gal_us]', 'm3', 3.785412e-3, false],
  ['gallon (Canadian and UK)', '[gal_br]', 'm3', 4.54609e-3, true],
  ['quart (US liquid)', '[qt_us]', 'm3', 9.463529e-4, false],
  ['pint (US liquid)', '[pt_us]', 'm3', 4.731765e-4, false],
  ['inch', '[in_i]', 'm', 2.54e-2, true],
  ['foot', '[ft_i]', 'm', 3.048e-1, true],
  ['mil (0.001 in)', '[mil_i]', 'm', 2.54e-5, true],
  ['pound (avoirdupois)', '[lb_av]', 'kg', 4.535924e-1, false],
  ['bar', 'bar', 'Pa', 1e5, true],
  ['litre', 'L', 'm3', 1e-3, true],
  ['knot', '[kn_i]', 'm/s', 5.144444e-1, false],
  ['inch of mercury, conventional', "[in_i'Hg]", 'Pa', 3.386389e3, false],
];

test.each(FACTORS)('NIST SP 811 B.8: one %s (%s) in %s is %d', (_name, from, to, factor, exact) => {
  for (const by of [convert, benchConvert]) {
    const own = by(1, from, to);
    expect(own).not.toBeNull();
    const far = Math.abs((own ?? 0) - factor) / factor;
    // Half a unit in the seventh figure; UCUM defines the column of mercury
    // by 133.322 kPa a metre, three millionths away from the conventional inch.
    expect(far).toBeLessThan(from.includes('Hg') ? 5e-6 : exact ? 1e-12 : 5.1e-7);
  }
});

test.each([
  ['freezing', 32, 0],
  ['boiling', 212, 100],
  ['the same on both', -40, -40],
  ['body', 98.6, 37],
])('NIST SP 811 B.8, degree Fahrenheit t: (t - 32)/1.8; %s', (_name, f, c) => {
  expect(convert(f, '[degF]', 'Cel')).toBeCloseTo(c, 9);
  expect(convert(c, 'Cel', '[degF]')).toBeCloseTo(f, 9);
});

test.each([
  ['[psi]', '[qt_us]'],
  ['V', '[psi]'],
  ['Cel', '[in_i]'],
  ['[qt_us]', 'no-such-unit'],
])('R8: %s is another kind than %s, so nothing is converted', (from, to) => {
  expect(convert(1, from, to)).toBeNull();
  expect(benchConvert(1, from, to)).toBeNull();
});

test('there and back is the same, for every pair of one kind', () => {
  for (const [, from, to] of FACTORS) {
    const there = convert(3, from, to);
    expect(convert(there ?? 0, to, from)).toBeCloseTo(3, 9);
  }
});
