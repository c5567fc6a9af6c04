import { expect, test } from 'vitest';
import { play, typedHeard } from './play.ts';

/**
 * What people say when they find it, and what has to come of it: the check, the
 * sign or measure, and the follow-ups. Common practice, no source, unless the
 * catalogue names one.
 */
const HARD = 'boom-attach-bolts cross-tube-spread mount-bolts';
const FACTS: readonly (readonly [string, string, string | null, string | null, string])[] = [
  ['helicopter', 'Front belt goes in past the second knuckle.', 'drive-belts', 'slack', ''],
  [
    'helicopter',
    'The guard has a groove where the belt has sawn into it.',
    'belt-guard',
    'guard-groove',
    '',
  ],
  [
    'helicopter',
    'There is grease at the seam of the clutch actuator.',
    'clutch-actuator',
    'actuator-grease',
    '',
  ],
  ['helicopter', 'The clutch actuator has too much play.', 'clutch-actuator', 'actuator-play', ''],
  [
    'helicopter',
    "The temperature strip's gone black.",
    'temperature-strip',
    'strip-extreme',
    'oil-after-heat',
  ],
  ['helicopter', 'One of the torque stripes is broken.', 'torque-stripes', 'stripe-broken', ''],
  ['helicopter', 'The cooling fan has a wrinkle in one blade.', 'cooling-fan', 'fan-wrinkle', ''],
  ['helicopter', "There's a screw missing on the cooling fan.", 'cooling-fan', 'loose', ''],
  ['helicopter', 'Dark powder at the middle rivet line.', 'rivet-lines', 'fretting', ''],
  [
    'helicopter',
    'Ripples on the underside of the tail boom.',
    'boom-underside',
    'boom-ripple',
    HARD,
  ],
  ['helicopter', 'The boom line droops.', 'boom-line', 'boom-droop', HARD],
  ['helicopter', 'The first leading edge has a dent in it.', 'leading-edges', 'edge-dent', ''],
  [
    'helicopter',
    'The trailing edge is bent on the second blade.',
    'trailing-edges',
    'trailing-bent',
    '',
  ],
  ['helicopter', "It's had a hard landing.", null, 'hard-landing', HARD],
  [
    'helicopter',
    "There's water in the main tank sample.",
    'fuel-sample',
    'fuel-contamination',
    'fuel-source second-sample',
  ],
  ['aeroplane', 'Left main tyre, cords showing.', 'left-tyre', 'tyre-cords', ''],
  ['aeroplane', 'Left main tyre is at twenty two psi, looks fine.', 'left-tyre', 'pressure', ''],
  ['aeroplane', 'Black film round a rivet on the cowling.', 'cowling', 'working-rivet', ''],
  ['aeroplane', 'Oil is at five quarts, good.', 'oil-level', 'level', ''],
  ['aeroplane', 'The rudder cable is frayed.', 'rudder-cables', 'frayed', ''],
  [
    'aeroplane',
    "It's been struck by lightning.",
    null,
    'lightning-strike',
    'compass-after-lightning lightning-marks',
  ],
  [
    'aeroplane',
    'Left fuel sample has water in it.',
    'left-sump',
    'fuel-contamination',
    'fuel-source second-sample',
  ],
];

test.each(FACTS)(
  '%s: “%s” is a finding at %s, %s, and demands %s',
  async (catalogue, text, check, sign, followUps) => {
    const coverage = await play(`training-${catalogue}`, [typedHeard(text, 0)]);
    const found = coverage.findings.map((f) => [
      f.check,
      ...f.conditions.map((c) => c.sign),
      ...(f.value === null ? [] : [f.value.measure]),
    ]);
    expect(found).toEqual([[check, sign]]);
    const demanded = coverage.checks.filter((c) => c.required.by === 'follow-up');
    expect(
      demanded
        .map((c) => c.check)
        .sort()
        .join(' '),
    ).toBe(followUps);
  },
  60_000,
);

test('R4, R5: a fault on a part that the aircraft has not is kept, or asked about at the rotor brake, never lost', async () => {
  const coverage = await play('training-helicopter', [typedHeard('Left brake line chafed.', 0)]);
  const kept = coverage.findings.flatMap((f) => f.conditions.map((c) => c.condition));
  const asked = coverage.checks.flatMap((c) => (c.standing === 'question' ? [c.check] : []));
  expect([kept, asked]).toContainEqual(kept.length > 0 ? ['chafing'] : ['rotor-brake']);
}, 60_000);
