import { expect, test } from 'vitest';
import { OFFERED } from '#speak';
import { FIRST_SCENE } from '#shared/scene';
import { loadDecoder } from '../../src/capture/embedded/decoder.ts';
import { createRecogniser, hearSamples } from '../../src/capture/embedded/recognise.ts';
import { aircraft, modelFolder, typed } from '../bench/listening-set.ts';
import { NOISES, over } from '../speech/noise.ts';
import { joined, RATE, say, VOICES } from '../speech/voice.ts';

/*
 * Issue 20: what somebody is told to say for hold and finish is heard over noise, in most
 * voices. "Hold" and "finish" themselves were not; the figures are in tests/bench/LISTENING.md.
 */
const DECIBELS = 20;

test('hold and finish as they are offered are heard at 20 dB by nearly every voice, and never as another order', async () => {
  const [plane] = aircraft('training-helicopter');
  if (plane === undefined) throw new Error('no catalogue');
  const decoder = await loadDecoder(modelFolder());
  for (const [command, text] of Object.entries(OFFERED)) {
    const done: string[][] = [];
    for (const [v, voice] of VOICES.entries()) {
      const recogniser = createRecogniser(decoder, plane.parts);
      recogniser.expect(FIRST_SCENE);
      const heard = async (sound: Float32Array) =>
        (await hearSamples(recogniser, sound, RATE, { id: () => 'order' }))
          .map((h) => h.text)
          .join(', ');
      // On a walk it was spoken before.
      await heard(joined([await say('front belt guard good and secure', voice)], 0.6).samples);
      const clean = joined([await say(text, voice)], 0.6).samples;
      const kind = NOISES[v % NOISES.length] ?? 'pink';
      const got = await heard(over(clean, kind, DECIBELS, RATE, 300 + v));
      done.push(
        plane.grammar
          .read(typed(got), FIRST_SCENE)
          .statements.flatMap((s) => (s.kind === 'command' ? [s.command] : [])),
      );
    }
    const right = done.filter((d) => d.length === 1 && d[0] === command).length;
    expect(right, text).toBeGreaterThanOrEqual(VOICES.length - 1);
    expect(
      done.flat().filter((d) => d !== command),
      text,
    ).toEqual([]);
  }
  decoder.close();
}, 240_000);
