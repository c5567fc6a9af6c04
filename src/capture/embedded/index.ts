export { DECODER_RATE, loadDecoder, type Decoder } from './decoder.ts';
export {
  embeddedEar,
  EMBEDDED_NAME,
  type EmbeddedParts,
  type Tap,
  type WorkerLike,
} from './ear.ts';
export { hearInWorker, type HearInWorkerParts } from './hear-in-worker.ts';
export { baseOf, checkModel, MODEL_FILES, type ModelCheck } from './model.ts';
export { nearNames, walkPhrases, type Lexicon, type Phrases, type Word } from './phrases.ts';
export {
  AIDS,
  createRecogniser,
  hearSamples,
  recogniseSamples,
  walkGrammar,
  type Aids,
  type GrammarParts,
  type SampleParts,
} from './recognise.ts';
export { browserDecode, isSoundFile, nodeDecode, soundFile, type Decode } from '../sound-file.ts';
export type { Sound, SoundRead } from '../signal/wav.ts';

// What touches the platform is loaded when it is used, so that Node can import the stage.
import type { Tap, WorkerLike } from './ear.ts';
import type { Decoder } from './decoder.ts';
import type { ModelCheck } from './model.ts';

/** Worker and microphone of this browser, for `embeddedEar`. */
export async function embeddedPlatform(): Promise<{
  browserWorker(): WorkerLike;
  browserTap(stream: MediaStream): Promise<Tap>;
  probeModel(modelBase: string): Promise<ModelCheck>;
}> {
  return import('./browser.ts');
}

/** The recogniser in Node; `folder` holds the model. */
export async function embeddedInNode(folder: string): Promise<Decoder> {
  const { nodeDecoder } = await import('./node.ts');
  return nodeDecoder(folder);
}
