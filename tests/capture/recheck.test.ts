import { expect, test } from 'vitest';
import { FIRST_SCENE, type Scene } from '#shared/scene';
import { loadDecoder } from '../../src/capture/embedded/decoder.ts';
import { recogniseSamples } from '../../src/capture/embedded/recognise.ts';
import { aircraft, modelFolder } from '../bench/listening-set.ts';
import { joined, RATE, say } from '../speech/voice.ts';

const candidate = { check: 'skid-tubes', instances: ['left'], score: 1, how: 'carried' };
const ASKED: Scene = {
  ...FIRST_SCENE,
  squawked: ['skid-tubes'],
  question: {
    id: 's/recheck',
    about: 's',
    kind: 'recheck',
    text: 'Open squawk: Left skid tubes: crack. Still there, worse, or gone?',
    options: ['still there', 'worse', 'gone'].map((label) => ({ label, candidate })),
  },
};

test('the question about an open squawk is answered by voice: still there, grown, gone', async () => {
  const decoder = await loadDecoder(modelFolder());
  const plane = aircraft().find((p) => p.name === 'training-helicopter');
  if (plane === undefined) throw new Error('no catalogue');
  const told: Record<string, string | null> = {};
  for (const words of ['still there', 'it is still there', 'it has grown', 'it is gone']) {
    let n = 0;
    const pieces = [await say('skid shoes are good', 'rms'), await say(words, 'rms')];
    const heard = await recogniseSamples(joined(pieces, 1.2).samples, RATE, {
      decoder,
      grammar: plane.parts,
      id: () => `h${String((n += 1))}`,
      after: () => ASKED,
    });
    const answer = heard
      .slice(1)
      .flatMap((h) => plane.grammar.read(h, ASKED).statements)
      .find((s) => s.kind === 'observation');
    told[words] = answer?.kind === 'observation' ? answer.compared : null;
  }
  expect(told).toEqual({
    'still there': 'same',
    'it is still there': 'same',
    'it has grown': 'worse',
    'it is gone': 'gone',
  });
}, 240_000);
