import type { Heard } from '#shared/heard';
import type { Question } from '#shared/question';
import { secondsToSay } from '#shared/speech';
import { firstAsked, QUESTION_WAIT, step, type Asking, type AskEvent } from './asker.ts';
import { EARCONS, secondsOf, type EarconName } from './earcon.ts';
import { admit, ECHO, type Admission, type Spoken } from './gate.ts';
import type { Talk } from './lines.ts';
import type { Reply } from './reply.ts';

/** Says words aloud. */
export interface Synth {
  /** false: there is no voice here, and nothing will ever sound. */
  readonly able: boolean;
  /** Resolves when the words have sounded: true; or could not: false. Never rejects. */
  say(text: string, started: () => void): Promise<boolean>;
  cancel(): void;
}

/** Sounds an earcon; resolves at its end. Never rejects. */
export interface Sounder {
  sound(name: EarconName): Promise<void>;
}

export interface VoiceParts {
  readonly synth: Synth;
  readonly sounder: Sounder;
  readonly vibrate?: (pattern: readonly number[]) => void;
  /** Seconds since the walk began. */
  seconds(): number;
  wait(seconds: number, then: () => void): () => void;
  talk(): Talk;
  /** For the log: our voice began (`to` null), and ended. */
  onSpoken(text: string, from: number, to: number | null): void;
  /** A question was put twice and not answered: it stays open. */
  onUnanswered(question: string): void;
  /** What should have been said and could not be: to be shown large. Empty: no longer. */
  onShown(text: string): void;
}

export interface Voice {
  /** Sounds and says a reply. Later replies wait for earlier ones. */
  reply(reply: Reply): void;
  /** Says words of our own in every setting, such as trouble with the microphone. */
  announce(earcon: EarconName | null, text: string): void;
  /** The question that has the floor now, after each happening; null when none has. */
  attend(question: Question | null): void;
  /** Whether somebody speaks: we do not begin while somebody does. */
  hearing(speaks: boolean): void;
  /** What of an utterance may be read (R11). Call it for every utterance before it is read. */
  admit(heard: Heard): Admission;
  /** true while our voice sounds and ECHO seconds after it. */
  closed(): boolean;
  /** Stops talking at once. */
  hush(): void;
  stop(): void;
}

/** Seconds that we wait for the pilot to finish before we speak all the same: an answer that comes later is no answer. */
export const POLITE = 4;
/**
 * Seconds for which a voice that failed to begin is not tried again: each trial
 * may cost the pilot three seconds of closed gate, and some browsers give the
 * voice only after a touch.
 */
export const MUTE = 60;
/** Seconds after a question's end until its waiting begins to be restarted by talk that does not answer it. */
const SPOKEN_KEPT = 40;

/**
 * The effects behind a reply: tones, words, the gate and the patience of a
 * question. Everything it touches is passed in.
 */
export function createVoice(parts: VoiceParts): Voice {
  const { synth, sounder } = parts;
  const queue: { earcon: EarconName | null; text: string }[] = [];
  let spoken: { text: string; from: number; to: number | null }[] = [];
  let busy = false;
  let generation = 0;
  let asking: Asking | null = null;
  let patience: (() => void) | null = null;
  let last: readonly string[] = [];
  let pilot = false;
  let pilotDone: (() => void)[] = [];
  /** Until when the voice counts as unable: some platforms have the object and no voice. */
  let muteUntil = 0;

  function quiet(): Promise<void> {
    if (!pilot) return Promise.resolve();
    return new Promise((resolve) => {
      const cancel = parts.wait(POLITE, resolve);
      pilotDone.push(() => {
        cancel();
        resolve();
      });
    });
  }

  async function perform(item: { earcon: EarconName | null; text: string }): Promise<void> {
    const words = item.text !== '';
    const mine = generation;
    if (words) await quiet();
    if (mine !== generation) return;
    const entry = { text: item.text, from: parts.seconds(), to: null as number | null };
    // R11 is about our own sound: words that will not sound close no gate.
    const aloud = words && synth.able && entry.from >= muteUntil;
    if (aloud) {
      spoken = [...spoken.filter((s) => s.to === null || s.to > entry.from - SPOKEN_KEPT), entry];
      parts.onSpoken(entry.text, entry.from, null);
    }
    if (item.earcon !== null) {
      parts.vibrate?.(EARCONS[item.earcon].vibration);
      await within(sounder.sound(item.earcon), secondsOf(EARCONS[item.earcon]) + 1);
    }
    if (!words) return;
    let sounded = false;
    const said =
      aloud && mine === generation
        ? await within(
            synth.say(item.text, () => (sounded = true)),
            secondsToSay(item.text) * 2 + 4,
          )
        : false;
    if (said !== true && mine === generation) {
      // No voice: the tone says that there is something, the screen says what.
      if (item.earcon === null) await within(sounder.sound('question'), 2);
      parts.onShown(item.text);
      if (aloud && !sounded) muteUntil = parts.seconds() + MUTE;
    } else parts.onShown('');
    if (!aloud) return;
    if (!sounded && said !== true) {
      // Nothing of it came out: there is no echo to wait for.
      spoken = spoken.filter((s) => s !== entry);
      parts.onSpoken(entry.text, entry.from, entry.from);
      return;
    }
    entry.to = parts.seconds();
    parts.onSpoken(entry.text, entry.from, entry.to);
  }

  /** A promise that may never come: some platforms lose the end of an utterance. */
  function within<T>(work: Promise<T>, seconds: number): Promise<T | null> {
    return new Promise((resolve) => {
      const cancel = parts.wait(seconds, () => {
        synth.cancel();
        resolve(null);
      });
      void work.then((value) => {
        // Left running it would cut the next sentence off.
        cancel();
        resolve(value);
      });
    });
  }

  async function run(): Promise<void> {
    if (busy) return;
    busy = true;
    for (let item = queue.shift(); item !== undefined; item = queue.shift()) {
      await perform(item);
    }
    busy = false;
    patient();
  }

  function add(earcon: EarconName | null, text: string): void {
    if (earcon === null && text === '') return;
    queue.push({ earcon, text });
    void run();
  }

  function patient(): void {
    patience?.();
    patience = null;
    if (asking === null || busy) return;
    patience = parts.wait(QUESTION_WAIT, () => {
      patience = null;
      // Somebody is speaking: the answer may be on its way.
      if (pilot) patient();
      else moveOn('time');
    });
  }

  function moveOn(event: AskEvent): void {
    if (asking === null) return;
    const { question } = asking;
    const next = step(asking, event);
    asking = next.asking;
    if (next.put) add('question', parts.talk() === 'tones' ? '' : question.text);
    if (next.leave) parts.onUnanswered(question.id);
  }

  return {
    reply(reply) {
      const say = reply.again ? [...last, ...reply.say] : reply.say;
      if (say.length > 0) last = say;
      add(reply.earcon, say.map(ended).join(' '));
    },
    announce(earcon, text) {
      last = [text];
      add(earcon, text);
    },
    attend(question) {
      if (question?.id !== asking?.question.id) {
        asking = question === null ? null : firstAsked(question);
      }
      patient();
    },
    hearing(speaks) {
      pilot = speaks;
      if (speaks) return;
      for (const done of pilotDone) done();
      pilotDone = [];
    },
    admit(heard) {
      const admission = admit(heard, spoken);
      if (admission.talkedOver) {
        if (asking !== null) moveOn('talked-over');
        else if (admission.take === null)
          add('not-understood', parts.talk() === 'tones' ? '' : 'Say again.');
      }
      return admission;
    },
    closed() {
      const now = parts.seconds();
      return spoken.some((s) => s.to === null || now < s.to + ECHO);
    },
    hush() {
      generation += 1;
      queue.length = 0;
      synth.cancel();
    },
    stop() {
      this.hush();
      asking = null;
      patience?.();
      patience = null;
    },
  };
}

function ended(text: string): string {
  return /[.?!]$/.test(text) ? text : `${text}.`;
}

export type { Spoken };
