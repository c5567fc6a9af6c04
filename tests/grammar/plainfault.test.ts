import { expect, test } from 'vitest';
import { FIRST_SCENE } from '#shared/scene';
import { grammarOf, typedHeard } from '../seeds/play.ts';

/* R4: a fault in plain words is a finding, also out of the blue, where the scores only ask. */

const { grammar } = grammarOf('training-aeroplane');

/** Checks with a finding that counts, and whether it was asked about, behind talk that gave nothing. */
function read(words: string): string[] {
  const { scene } = grammar.read(typedHeard('now the nose', 0), FIRST_SCENE);
  return grammar
    .read(typedHeard(words, 1), scene)
    .statements.flatMap((s) =>
      s.kind === 'observation' && s.force === 'result' && s.conditions.some((c) => c.present)
        ? [
            `${s.about.kind === 'check' ? s.about.check : s.about.kind}${s.doubtful === null ? '' : '?'}`,
          ]
        : [],
    );
}

test.each([
  ['propeller nick, watch it', 'propeller-blades'],
  ['propeller nick, note it', 'propeller-blades'],
  ['left tyre cut, defer it', 'left-tyre'],
  ['tail tie-down missing, ground it', 'tail-tie-down'],
])('R4: "%s" counts', (words, check) => {
  expect(read(words)).toContain(check);
});

test.each([
  'no nick in the propeller, watch it',
  'a propeller nick is what you watch for',
  'if the propeller had a nick you would watch it',
  'is that a propeller nick',
  'last week the propeller had a nick, watch it',
  'maybe the propeller has a nick, watch it',
])('R2, R3: "%s" does not', (words) => {
  expect(read(words).filter((found) => !found.endsWith('?'))).toEqual([]);
});
