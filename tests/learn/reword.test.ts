import { expect, test } from 'vitest';
import { random } from '../bench/channel.ts';
import { ownWalks } from '../corpus/walks.ts';
import { Rewording } from './reword.ts';

/* Saying a walk in other words, to learn from. */

const [walk] = ownWalks('tune');

test('the same seed says the same, some of it otherwise, and an utterance without labels as it was', () => {
  if (walk === undefined) throw new Error('There is no walk.');
  const says = (seed: number): string[] => {
    const rewording = new Rewording(walk.catalogue, random(seed));
    return walk.talk.map((u) => rewording.of(u));
  };
  const once = says(20261);
  expect(says(20261)).toEqual(once);
  expect(once.some((text, i) => text !== walk.talk[i]?.say)).toBe(true);
  walk.talk.forEach((u, i) => {
    if (u.labels.length === 0) expect(once[i]).toBe(u.say);
  });
});
