import { expect, test } from 'vitest';
import { grammarOf, play, typedHeard } from '../seeds/play.ts';

/**
 * 14 CFR Part 43, Appendix D: a walk in which the items of one group are said
 * leaves exactly the items of the other groups skipped.
 */
const WALKS: readonly (readonly [string, readonly string[]])[] = [
  ['f', ['Wings and center section good, secure.']],
  [
    'h',
    [
      "Propeller assembly's good, no cracks, no nicks, no leaks.",
      'Propeller bolts, torque is good, safetying is good.',
      'Propeller anti-icing works, operation is good, condition is good.',
      'Propeller control mechanisms, operation is good, they are secure, full travel.',
    ],
  ],
  [
    'e',
    [
      'Gear units are good and secure.',
      'Shock absorbers, fluid level is good.',
      'Linkages and trusses, no wear, no distortion.',
      'Retracting and locking mechanism works.',
      'Gear hydraulic lines are dry.',
      'Gear electrical system, no chafing on the wiring.',
      'Gear switches, operation is good.',
      'Wheels are good, and the bearings turn freely.',
      'Tires have plenty of tread, no cuts.',
      'Brakes are good.',
      'Floats and skis are good, attachment is good.',
    ],
  ],
];

test.each(WALKS)(
  '14 CFR 43 Appendix D: group (%s) alone is said, and exactly the others are skipped',
  async (group, sentences) => {
    const coverage = await play('appendix-d', [
      ...sentences.map((text, i) => typedHeard(text, i)),
      typedHeard('Finish.', sentences.length),
    ]);
    const { stations } = grammarOf('appendix-d').catalogue;
    for (const { check, station, standing } of coverage.checks) {
      expect([check, standing]).toEqual([check, station === group ? 'spoken' : 'skipped']);
    }
    expect(coverage.findings).toEqual([]);
    expect(stations.map((s) => s.id)).toContain(group);
  },
  60_000,
);
