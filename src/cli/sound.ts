import { isSoundFile, recogniseSamples, soundFile, soundInNode } from '#capture';
import { createGrammar, type Pronunciations } from '#grammar';
import { listeningParts } from '#wire';
import type { Catalogue } from '#shared/catalogue';
import type { Heard } from '#shared/heard';
import { FIRST_SCENE, type Scene } from '#shared/scene';
import { Refusal } from './command.ts';
import { modelFolder } from './files.ts';
import { scores } from './scores.ts';

export const isSound = isSoundFile;

/** What a sound file says, by the recogniser on this device. @throws Refusal with one sentence. */
export async function heardInSound(
  bytes: Uint8Array,
  file: string,
  catalogue: Catalogue,
  pronunciations: Pronunciations,
): Promise<Heard[]> {
  const { decoder, decode } = await soundInNode(modelFolder());
  const sound = await soundFile(bytes, file, decode);
  if (!sound.ok) throw new Refusal(sound.error);
  if (sound.warning !== null) process.stderr.write(`${sound.warning}\n`);
  const grammar = createGrammar(catalogue, { pronunciations, weights: scores() });
  let scene: Scene = FIRST_SCENE;
  let count = 0;
  const heard = await recogniseSamples(sound.samples, sound.rate, {
    decoder,
    grammar: listeningParts(catalogue, pronunciations),
    id: () => `${file}#${(count += 1)}`,
    // Where the walk has come to says what is likely to be said next.
    after(utterance) {
      scene = grammar.read(utterance, scene).scene;
      return scene;
    },
  });
  if (heard.length > 0) return heard;
  throw new Refusal(
    `${file} has sound, but nothing in it could be heard as a walk on this aircraft.`,
  );
}
