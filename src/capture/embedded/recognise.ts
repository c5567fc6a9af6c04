import type { Heard } from '#shared/heard';
import type { Listening } from '#shared/listening';
import type { Question } from '#shared/question';
import { FIRST_SCENE, type Scene } from '#shared/scene';
import { heardOf } from '../ear.ts';
import { resample } from '../signal/resample.ts';
import { createSegmenter, LEAD, TAIL, type Utterance } from '../signal/segment.ts';
import { soundedOf, type Sounded } from '../signal/sounded.ts';
import { suppress } from '../signal/suppress.ts';
import { AIDS, type Aids } from './aids.ts';
import { DECODER_RATE, type Anything, type Decoder } from './decoder.ts';
import {
  ANSWER_COVERAGE,
  ANSWER_MARGIN,
  COMMAND_LEAD,
  hearingOf,
  leastMargin,
  marginOf,
  pricesOf,
  SHORT_ANSWER,
  type Hearing,
  type Measured,
} from './gates.ts';
import { networkOfPlan, type Network } from './network.ts';
import { wayOf } from './sense.ts';
import type { VoiceSettings } from './voice.ts';

export { AIDS, type Aids } from './aids.ts';
export type { Hearing } from './gates.ts';

export interface Recogniser {
  /** Where the walk is. Takes effect with the next utterance. */
  expect(scene: Scene): void;
  /** Names that are likely now, where the scene is not known here. */
  near(names: readonly string[], question: Question['kind'] | null): void;
  /** Whose voice it is from now on. Never during an utterance. */
  fit(voice: VoiceSettings): Promise<void>;
  /** @param samples one utterance at 8,000 samples a second. */
  hear(samples: Float32Array): Hearing | null;
  /** Words as they come, from unsuppressed sound: to be shown, never to be counted. */
  begin(): void;
  push(samples: Float32Array): string;
  cancel(): void;
}

/** One utterance, and what it scores as any sounds at all once that was asked. */
interface Sound {
  readonly samples: Float32Array;
  /** More of the same voice in the same place, by whose mean it is measured; left out: by its own. */
  readonly like?: Float32Array | undefined;
  /** Seconds between which somebody spoke, as far as that is known. */
  readonly between?: readonly [from: number, to: number];
  anything?: Anything;
}

/** Seconds of words from which a sentence tells how its voice and its place sound; shorter ones are what needs to be told. */
const LIKE = 0.9;

/** Seconds from the first word to the end of the last. */
function lengthOf({ words }: Hearing): number {
  return (words.at(-1)?.to ?? 0) - (words[0]?.from ?? 0);
}

export function createRecogniser(
  decoder: Decoder,
  parts: Listening,
  aids: Aids = AIDS,
): Recogniser {
  decoder.addWords(parts.words);
  const network = networkOfPlan(parts.plan);
  const answers = new Map<Question['kind'], Network>();
  const commands = networkOfPlan({ ...parts.plan, start: 'command' });
  const prices = pricesOf(parts.plan.dear);
  const orders = new Set(parts.plan.hubs['order']?.map((path) => path.say));
  let boosts: ReadonlyMap<number, ReadonlyMap<string, number>> = new Map();
  let set: Network | null = null;
  let setFor = '';
  let wanted: readonly string[] = parts.near?.(FIRST_SCENE) ?? [];
  let asked: Question['kind'] | null = null;
  let running = false;
  let strict = 1;
  /** The last sentence that was heard in quiet: what is left of noise tells of the noise. */
  let like: Float32Array | undefined;
  listen(network);

  function listen(to: Network): void {
    const key = to === network ? wanted.join('|') : '';
    if (set === to && setFor === key) return;
    set = to;
    setFor = key;
    if (to === network) boosts = boostsOf(network, wanted, aids.near);
    decoder.listenFor(to, { loop: aids.loop, ...(to === network ? { boost } : {}) });
  }

  function boost(state: number, word: string): number {
    return boosts.get(state)?.get(word) ?? 1;
  }

  /** What answers a question of this kind, made when it is first asked. */
  function answersTo(kind: Question['kind']): Network {
    let made = answers.get(kind);
    if (made === undefined) {
      made = networkOfPlan({ ...parts.plan, start: `asked-${kind}` });
      answers.set(kind, made);
    }
    return made;
  }

  function answering(): boolean {
    return set !== network && set !== commands;
  }

  /** The best words for the sound, unless any sounds at all would do nearly as well. */
  function measured(sound: Sound, coverage: number, least = -Infinity): Measured | null {
    const decoded = decoder.decode(sound.samples, sound.like);
    const hearing = hearingOf(decoded, coverage, sound.between);
    if (hearing === null) return null;
    const way = set === network ? wayOf(network, decoded.pieces, boost) : null;
    const named = way?.segments.some(({ hub }) => hub === 'name') ?? false;
    if (!aids.margin) return { hearing, margin: 0, over: 0, named };
    const anything = (sound.anything ??= decoder.asAnything(sound.samples, sound.like));
    const margin = marginOf(decoded, anything);
    const needed = Math.max(
      least,
      // To a question, "yes" or "the left one" is what is waited for.
      prices.leastFor(hearing.text, !answering() && orders.has(hearing.text)),
      set === network ? leastMargin(way, new Set(wanted), aids.sense, strict) : -Infinity,
    );
    const over = decoded.score - anything.score;
    return margin < needed ? null : { hearing, margin, over, named };
  }

  /** A command said alone, when it fits the sound clearly better than what else it was taken for. */
  function commandIn(sound: Sound, other: Measured | null): Hearing | null {
    listen(commands);
    const command = measured(sound, ANSWER_COVERAGE);
    // A bare side is heard by the whole grammar too; here it once displaced a name and its verdict.
    if (command === null || prices.isSide(command.hearing.text)) return null;
    if (command.margin < prices.leastFor(command.hearing.text, true)) return null;
    return other === null || command.over > other.over + COMMAND_LEAD ? command.hearing : null;
  }

  function cancel(): void {
    if (running) decoder.finish();
    running = false;
  }

  return {
    expect(scene) {
      this.near(parts.near?.(scene) ?? [], scene.question?.kind ?? null);
    },
    near(names, question) {
      wanted = names;
      asked = question;
      if (!running && question === null) listen(network);
    },
    async fit(voice) {
      cancel();
      strict = voice.strict;
      // Somebody else's, or this voice at another stretch.
      like = undefined;
      await decoder.tune(voice.warp);
      // Whoever tuned it may have set another network meanwhile.
      set = null;
      listen(network);
    },
    hear(samples) {
      cancel();
      const clean = suppress(samples, DECODER_RATE);
      const sound: Sound = { samples: clean.snr < aids.suppressBelow ? clean.samples : samples };
      const short = samples.length < SHORT_ANSWER * DECODER_RATE;
      const expected = aids.narrow && short ? asked : null;
      const least = expected === null ? -Infinity : ANSWER_MARGIN;
      if (expected !== null) {
        listen(answersTo(expected));
        const answer = measured(sound, ANSWER_COVERAGE, least);
        if (answer !== null) return answer.hearing;
      }
      listen(network);
      const all = measured(sound, aids.coverage, least);
      // A name and its result that passed the gates are no command: the pass would only cost time.
      if (aids.commands && aids.margin && short && all?.named !== true) {
        const command = commandIn(
          {
            samples: sound.samples,
            like: aids.like ? like : undefined,
            between: [LEAD, samples.length / DECODER_RATE - TAIL],
          },
          all,
        );
        if (command !== null) return command;
      }
      if (all !== null && sound.samples === samples && lengthOf(all.hearing) >= LIKE)
        like = samples;
      return all?.hearing ?? null;
    },
    begin() {
      cancel();
      listen(network);
      decoder.start();
      running = true;
    },
    push(samples) {
      if (!running) return '';
      decoder.push(samples);
      return decoder.partial();
    },
    cancel,
  };
}

/** Along the words of each expected name, every arc by the factor. */
function boostsOf(
  network: Network,
  names: readonly string[],
  factor: number,
): Map<number, Map<string, number>> {
  const boosts = new Map<number, Map<string, number>>();
  if (factor === 1) return boosts;
  for (const name of names) {
    const words = name.split(' ');
    for (const start of network.nameStarts) {
      const path: [number, string][] = [];
      let at: number | undefined = start;
      for (const word of words) {
        if (at === undefined) break;
        path.push([at, word]);
        at = network.arcs[at]?.get(word);
      }
      if (at === undefined) continue;
      for (const [state, word] of path) {
        let of = boosts.get(state);
        if (of === undefined) boosts.set(state, (of = new Map()));
        of.set(word, factor);
      }
    }
  }
  return boosts;
}

export interface SampleParts {
  readonly decoder: Decoder;
  readonly grammar: Listening;
  /** A new id for each utterance. */
  id(): string;
  readonly aids?: Aids;
  /** Scene after an utterance, where somebody reads them as they come. */
  readonly after?: (heard: Heard) => Scene | Promise<Scene>;
  /** Speech that gave no words. */
  readonly lost?: (sound: Sounded) => void;
  /** Part of the sound that is done, 0 to 1. */
  readonly progress?: (part: number) => void;
}

/** Seconds of sound after which others get a turn. */
const TURN = 2;

/** Hears a whole recording. Times in seconds from its begin. */
export function recogniseSamples(
  samples: Float32Array,
  rate: number,
  parts: SampleParts,
): Promise<Heard[]> {
  return hearSamples(
    createRecogniser(parts.decoder, parts.grammar, parts.aids),
    samples,
    rate,
    parts,
  );
}

/** The same with a recogniser that is there already. */
export async function hearSamples(
  recogniser: Recogniser,
  samples: Float32Array,
  rate: number,
  parts: Pick<SampleParts, 'id' | 'after' | 'progress' | 'lost'>,
): Promise<Heard[]> {
  const sound = resample(samples, rate, DECODER_RATE);
  const done: Heard[] = [];
  const waiting: Utterance[] = [];
  const segmenter = createSegmenter(DECODER_RATE, { ended: (u) => waiting.push(u) });
  const step = TURN * DECODER_RATE;
  for (let at = 0; at < sound.length + step; at += step) {
    if (at < sound.length) segmenter.push(sound.subarray(at, at + step));
    else segmenter.flush();
    for (let next = waiting.shift(); next !== undefined; next = waiting.shift()) {
      const hearing = recogniser.hear(next.samples);
      if (hearing === null) {
        parts.lost?.(soundedOf(next.samples, DECODER_RATE));
        continue;
      }
      const heard = heardIn(hearing, next.from, next.voiceEnd, parts.id(), 'sound-file');
      done.push(heard);
      if (parts.after !== undefined) recogniser.expect(await parts.after(heard));
    }
    parts.progress?.(Math.min(1, at / sound.length));
    await new Promise((resolve) => setTimeout(resolve, 0));
  }
  return done;
}

/** A hearing as the record keeps it. */
export function heardIn(
  hearing: Hearing,
  from: number,
  to: number,
  id: string,
  by: 'sound-file' | 'embedded',
): Heard {
  const words = hearing.words.map((w) => ({
    ...w,
    from: w.from === null ? null : from + w.from,
    to: w.to === null ? null : from + w.to,
  }));
  return heardOf({
    id,
    by,
    text: hearing.text,
    words,
    alternatives: [...hearing.alternatives],
    from: words[0]?.from ?? from,
    to: words.at(-1)?.to ?? to,
    confidence: hearing.confidence,
  });
}
