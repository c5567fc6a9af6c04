import type { Heard } from '#shared/heard';
import type { Question } from '#shared/question';
import type { Replied } from '#shared/replied';
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
  /** false: tones are turned off, and `sound` is silent. */
  readonly able?: boolean;
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
  /** For the log, once it is over: the tone and the words as they reached the pilot. */
  onReplied(replied: Replied): void;
  /** A question was put twice and not answered: it stays open. */
  onUnanswered(question: string): void;
  /** What should have been said and could not be: to be shown large. Empty: no longer. */
  onShown(text: string): void;
}

export interface Voice {
  /** Sounds and says a reply to an utterance, given by its id. Later replies wait for earlier ones. */
  reply(reply: Reply, answers?: string | null): void;
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
  /** Whether sound of that time is our own voice or tone coming back (R11). */
  ours(from: number, to: number): boolean;
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

/** Tones of which it is known when they sounded: more than can come within one utterance. */
const TONES_KEPT = 8;
/** Seconds by which the sound of a tone may be late in the microphone, or early by the clock of its stream. */
const TONE_LATE = 0.4;
const TONE_EARLY = 0.15;

/** A reply that waits for its turn. */
interface Item {
  readonly earcon: EarconName | null;
  readonly text: string;
  readonly answers: string | null;
}

/**
 * The effects behind a reply: tones, words, the gate and the patience of a
 * question. Everything it touches is passed in.
 */
export function createVoice(parts: VoiceParts): Voice {
  const { synth, sounder } = parts;
  const queue: Item[] = [];
  let spoken: { text: string; from: number; to: number | null }[] = [];
  let tones: { readonly from: number; readonly to: number }[] = [];
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

  async function perform(item: Item): Promise<void> {
    const words = item.text !== '';
    const mine = generation;
    if (words) await quiet();
    if (mine !== generation) return;
    const from = parts.seconds();
    if (!words) {
      await tone(item.earcon);
      keep(item, 'none', from);
      return;
    }
    const how = await perhapsAloud(item, from, mine);
    if (how === 'spoken') parts.onShown('');
    // No voice: the tone says that there is something, the screen says what.
    const earcon = item.earcon ?? (how === 'shown' ? 'question' : null);
    if (how === 'shown') {
      if (item.earcon === null) await tone('question');
      parts.onShown(item.text);
    }
    keep({ ...item, earcon }, how, from);
  }

  /** The tone and, where there is a voice, the words after it; what came of the words. */
  async function perhapsAloud(item: Item, from: number, mine: number): Promise<Replied['how']> {
    // R11 is about our own sound: words that will not sound close no gate.
    if (!synth.able || from < muteUntil) {
      await tone(item.earcon);
      return mine === generation ? 'shown' : 'none';
    }
    const entry = { text: item.text, from, to: null as number | null };
    spoken = [...spoken.filter((s) => s.to === null || s.to > from - SPOKEN_KEPT), entry];
    parts.onSpoken(entry.text, from, null);
    await tone(item.earcon);
    let sounded = false;
    const say = () => synth.say(item.text, () => (sounded = true));
    const said = mine === generation ? await within(say(), secondsToSay(item.text) * 2 + 4) : false;
    if (sounded || said === true) {
      entry.to = parts.seconds();
      parts.onSpoken(entry.text, from, entry.to);
    } else {
      // Nothing of it came out: there is no echo to wait for.
      spoken = spoken.filter((s) => s !== entry);
      parts.onSpoken(entry.text, from, from);
    }
    if (said === true) return 'spoken';
    if (mine !== generation) return sounded ? 'spoken' : 'none';
    if (!sounded) muteUntil = parts.seconds() + MUTE;
    return 'shown';
  }

  async function tone(name: EarconName | null): Promise<void> {
    if (name === null) return;
    parts.vibrate?.(EARCONS[name].vibration);
    const from = parts.seconds();
    tones = [...tones.slice(-TONES_KEPT), { from, to: from + secondsOf(EARCONS[name]) }];
    await within(sounder.sound(name), secondsOf(EARCONS[name]) + 1);
  }

  function keep({ earcon, text, answers }: Item, how: Replied['how'], from: number): void {
    const heard = sounder.able === false ? null : earcon;
    const said = how === 'none' ? '' : text;
    if (heard === null && said === '') return;
    parts.onReplied({ tone: heard, text: said, how, from, answers });
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

  function add(earcon: EarconName | null, text: string, answers: string | null = null): void {
    if (earcon === null && text === '') return;
    queue.push({ earcon, text, answers });
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
    if (next.unheard) add('not-understood', '');
    if (next.leave) parts.onUnanswered(question.id);
  }

  return {
    reply(reply, answers = null) {
      const say = reply.again ? [...last, ...reply.say] : reply.say;
      if (say.length > 0) last = say;
      add(reply.earcon, say.map(ended).join(' '), answers);
    },
    announce(earcon, text) {
      if (text !== '') last = [text];
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
    ours(from, to) {
      // A tone closes no gate, but its echo gives no words: answered with a tone it would go on for ever.
      return (
        spoken.some((s) => from >= s.from && (s.to === null || from < s.to + ECHO)) ||
        tones.some((t) => from >= t.from - TONE_EARLY && to <= t.to + TONE_LATE)
      );
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
