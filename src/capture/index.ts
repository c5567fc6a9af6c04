import type { LiveParts } from './live.ts';
import type { OwnNeeds } from './own/here.ts';

import type { Heard } from '#shared/heard';
import type { EarCheck, EarCheckParts } from './own/check.ts';
import type { FileNeeds } from './own/file.ts';
import type { Decoder } from './embedded/decoder.ts';
import type { Decode } from './sound-file.ts';

export * from './ear.ts';
export { LONGEST_TYPED, typedEar, type TypedEar } from './typed.ts';
export { realWait, scriptedEar, type ScriptedEar, type Step, type Wait } from './scripted.ts';
export { transcriptHeard, type Transcript } from './transcript/transcript.ts';
export {
  speechPlatform,
  type Api,
  type ApiResultEvent,
  type PlainEvent,
  type SpeechPlatform,
} from './browser/api.ts';
export {
  browserEar,
  localAvailability,
  type BrowserEarOptions,
  type LocalAvailability,
} from './browser/browser.ts';
export { installLocal, localState, type Installed, type LocalState } from './browser/install.ts';
export {
  ALLOWED_WORDS,
  chooseEar,
  listensSentence,
  PRIVACY,
  substitutes,
  type Allowed,
  type Choice,
  type Chosen,
  type Source,
} from './choose.ts';
export { pairEar, type PairParts } from './pair.ts';
export { switchboard, type Switchboard, type SwitchboardOptions } from './switchboard.ts';
export {
  microphone,
  permissionChanges,
  type Microphone,
  type MicrophoneState,
  type Opened,
} from './sound/microphone.ts';
export {
  joinSound,
  platformRecorder,
  recorder,
  SLICE,
  type Joined,
  type Keep,
  type RecordedChunk,
  type Recorder,
  type RecorderParts,
} from './sound/recorder.ts';
export { awakePlatform, stayAwake, type Awake } from './platform/awake.ts';
export { headset, headsetPlatform, type Headset, type HeadsetActions } from './platform/headset.ts';
export { watchInterruptions, type Interruption } from './platform/interruption.ts';
export { liveEar, type LiveEar, type LiveParts } from './live.ts';
export { liveEarHere, type LiveNeeds } from './here.ts';
export { ownEar, type OwnEarParts, type WorkerLike } from './own/ear.ts';

/**
 * Our own recogniser in this browser, for `liveEarHere`. Loaded when it is used:
 * a program in Node has neither a worker of this kind nor a microphone.
 */
export async function embeddedInBrowser(
  needs: OwnNeeds,
): Promise<LiveParts<MediaStream>['embedded']> {
  const { embeddedHere } = await import('./own/here.ts');
  return embeddedHere(needs);
}
export type { OwnNeeds };

/** The ear check in this browser, loaded when it is used. */
export async function earCheckInBrowser(
  needs: Omit<EarCheckParts<MediaStream>, 'microphone' | 'tap' | 'worker'>,
): Promise<EarCheck> {
  const { earCheckHere } = await import('./own/here.ts');
  return earCheckHere(needs);
}
export { voiceFrom, type Adapted, type VoiceSettings, type WhyNot } from './embedded/voice.ts';
export type { Checked, Tried } from './embedded/adapt.ts';
export type { EarCheck, EarCheckParts };

/** Hears a whole recording with our own recogniser, in a worker. Rejects with one sentence. */
export async function hearInBrowser(
  samples: Float32Array,
  rate: number,
  needs: FileNeeds,
): Promise<Heard[]> {
  const { hearFileHere } = await import('./own/here.ts');
  return hearFileHere(samples, rate, needs);
}
export { recogniseSamples } from './embedded/recognise.ts';
export { browserDecode, isSoundFile, soundFile, type Decode } from './sound-file.ts';
export { decodeText } from './transcript/decode.ts';
export {
  LARGEST_FILE,
  picturePlatform,
  readPicture,
  type MadePicture,
  type PicturePlatform,
  type ReadPicture,
} from './picture.ts';
export { LARGEST_WAV_MB, soundTooLarge } from './sound-limits.ts';

/**
 * Recogniser and sound decoder of Node; `folder` holds the model. The condition
 * keeps both out of the page, where they could not run.
 */
export async function soundInNode(folder: string): Promise<{ decoder: Decoder; decode: Decode }> {
  if (!import.meta.env.SSR) throw new Error('Sound files are heard in a worker here.');
  const [{ nodeDecoder }, { nodeDecode }] = await Promise.all([
    import('./embedded/node.ts'),
    import('./sound-file.ts'),
  ]);
  return { decoder: await nodeDecoder(folder), decode: nodeDecode };
}
