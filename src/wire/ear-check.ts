import type { Adapted, EarCheck, EarCheckParts, VoiceSettings } from '#capture';
import type { EarChecking, EarCheckView } from '#screens';
import { liveValue } from './live-value.ts';
import { FAINT, NOISY } from './unheard.ts';
import type { Voices } from './voices.ts';

/** Phrases of the short check, and of the long one: more tell more of a voice. */
const SHORT = 3;
const LONG = 6;
/** Readings of a phrase that is not understood, before the next is asked for. */
const TRIES = 2;

type Told = Pick<
  EarCheckParts<MediaStream>,
  'kept' | 'voice' | 'onLevel' | 'onState' | 'onChecked' | 'onAdapted'
>;

export interface EarCheckWire {
  readonly voices: Voices;
  /** Opens the check of this catalogue's aircraft. */
  open(catalogue: string, told: Told): Promise<EarCheck>;
  /** Whose voice it is. */
  person(): string;
  /** Nothing else listens while it is read: what is read is no result (R1). */
  quiet(): Promise<void>;
  /** What listened before listens again. */
  again(): Promise<void>;
}

const OFF: EarCheckView = {
  state: 'off',
  phrases: [],
  at: 0,
  level: 0,
  sound: null,
  why: null,
  kept: false,
};

/** The ear check as the screen shows it: phrase by phrase, then what follows for this voice. */
export function earChecking(parts: EarCheckWire): EarChecking {
  const now = liveValue<EarCheckView>(OFF);
  let check: EarCheck | null = null;
  let found: VoiceSettings | null = null;
  let tries = 0;
  let turn: Promise<void> = Promise.resolve();
  /** Which start it is: what comes of an earlier one is nobody's business. */
  let round = 0;

  const isKept = () => parts.voices.of(parts.person()) !== null;

  function next(of: EarCheck, at: number): void {
    const phrase = now.get().phrases[at];
    tries = 0;
    if (phrase === undefined) {
      now.patch({ at, state: 'fitting' });
      of.adapt();
    } else {
      now.patch({ at });
      of.read(phrase.text);
    }
  }

  function decide(adapted: Adapted): void {
    closeCheck();
    if (!adapted.ok) {
      now.patch({ state: 'done', why: adapted.why });
      return;
    }
    found = adapted.voice;
    if (adapted.other) now.patch({ state: 'done', why: 'other' });
    else void keep();
  }

  async function keep(): Promise<void> {
    if (found === null) return;
    await parts.voices.keep(parts.person(), found);
    found = null;
    now.patch({ state: 'done', why: null, kept: true });
  }

  function closeCheck(): void {
    check?.stop();
    check = null;
  }

  async function begin(catalogue: string, count: number, mine: number): Promise<void> {
    await parts.quiet();
    const ours = () => mine === round;
    const opened = await parts.open(catalogue, {
      kept: parts.voices.of(parts.person()),
      onLevel: (level) => {
        if (ours()) now.patch({ level });
      },
      onState(state, sentence) {
        if (!ours()) return;
        const before = now.get().state;
        if (before === 'fitting' || before === 'done') return;
        if (state === 'trouble') {
          check = null;
          now.patch({ state, trouble: sentence });
          return;
        }
        now.patch({ state });
        if (before === 'starting') next(opened, 0);
      },
      onChecked(text, { sound, understood }) {
        if (!ours()) return;
        const { phrases, at } = now.get();
        if (phrases[at]?.text !== text) return;
        tries += 1;
        now.patch({
          phrases: phrases.map((p, i) => (i === at ? { ...p, understood } : p)),
          sound: { faint: sound.level < FAINT, noisy: sound.snr < NOISY },
        });
        if (understood || tries >= TRIES) next(opened, at + 1);
      },
      onAdapted(adapted) {
        if (ours()) decide(adapted);
      },
    });
    if (!ours()) return;
    check = opened;
    const phrases = opened.phrases.slice(0, count).map((text) => ({ text, understood: null }));
    now.patch({ phrases });
    await opened.start();
  }

  function start(catalogue: string, long: boolean): void {
    const mine = (round += 1);
    closeCheck();
    found = null;
    now.set({ ...OFF, state: 'starting', kept: isKept() });
    turn = turn
      .then(() => begin(catalogue, long ? LONG : SHORT, mine))
      .catch((error: unknown) => {
        const trouble = error instanceof Error ? error.message : String(error);
        if (mine === round) now.patch({ state: 'trouble', trouble });
      });
  }

  return {
    now,
    start,
    keep: () => keep(),
    async forget() {
      await parts.voices.forget(parts.person());
      now.patch({ kept: false });
    },
    kept: isKept,
    stop() {
      round += 1;
      closeCheck();
      found = null;
      now.set(OFF);
      turn = turn.then(() => parts.again());
      return turn;
    },
  };
}
