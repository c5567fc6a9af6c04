export * from './ear.ts';
export { typedEar, type TypedEar } from './typed.ts';
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
