import { fileURLToPath } from 'node:url';
import { expect, test } from 'vitest';
import type { Utterance } from '../corpus/format.ts';
import { readCatalogue } from '../corpus/load.ts';
import { heardOf, ourReader, sceneOf } from '../bench/grammar/ours.ts';

const file = fileURLToPath(new URL('../corpus/helicopter.yaml', import.meta.url));
const catalogue = readCatalogue(file);
const reader = ourReader(catalogue);

/** What an answer to "left, right or both: door?" is read as: the places, or null where it is none. */
function placesOf(said: string, before: string, kind: 'which-instance' | 'which-check') {
  const utterance: Utterance = {
    id: 'a',
    say: said,
    is: '',
    at: 'cabin',
    after: [before],
    asked: {
      kind,
      options:
        kind === 'which-instance'
          ? ['door(left)', 'door(right)']
          : ['windscreen', 'seat-belt(all)'],
    },
    heard: [],
    voice: '',
    part: 'work',
    catalogue: '',
    labels: [],
  };
  const answer = reader
    .read(heardOf(said), sceneOf(reader, utterance, catalogue))
    .statements.find((s) => s.kind === 'observation' && s.answers === 'q');
  if (answer?.kind !== 'observation' || answer.about.kind !== 'check') return null;
  return [...answer.about.which.instances].sort();
}

// The options are those of the product (src/record/questions.ts): left, right, both.
test.each([
  ['Left.', ['left']],
  ['The left one.', ['left']],
  ['Port.', ['left']],
  ['Starboard.', ['right']],
  ['The right one, starboard.', ['right']],
  ['Both.', ['left', 'right']],
  ['Both of them.', ['left', 'right']],
  ['Upper.', null],
  ['Lovely day.', null],
])('R5: "%s" to "left, right or both" is %j', (said, places) => {
  expect(placesOf(said, 'Doors good.', 'which-instance')).toEqual(places);
});

test('R5: "both" to a question between two checks chooses neither', () => {
  expect(placesOf('Both.', 'It is dirty.', 'which-check')).toBeNull();
});
