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
