export {
  EARCONS,
  componentsOf,
  samplesOf,
  secondsOf,
  type Earcon,
  type EarconName,
} from './earcon.ts';
export { replyTo, type Reply } from './reply.ts';
export { OFFERED } from './orders.ts';
export type { Around, ReplySettings, Talk } from './lines.ts';
export { isVerdict } from './wording.ts';
export { readBack, readBackAll } from './findings.ts';
export { admit, ECHO, isEcho, type Admission, type Spoken } from './gate.ts';
export { QUESTION_WAIT, TIMES_ASKED, firstAsked, step, type Asking } from './asker.ts';
export {
  createVoice,
  MUTE,
  POLITE,
  type Sounder,
  type Synth,
  type Voice,
  type VoiceParts,
} from './voice.ts';
export { browserSounder, browserSynth, browserVibrate } from './platform.ts';
