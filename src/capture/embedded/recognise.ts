import type { Catalogue } from '#shared/catalogue';
import type { Heard, HeardWord } from '#shared/heard';
import { FIRST_SCENE, type Scene } from '#shared/scene';
import { heardOf } from '../ear.ts';
import { resample } from '../signal/resample.ts';
import { createSegmenter, type Utterance } from '../signal/segment.ts';
import { suppress } from '../signal/suppress.ts';
import { DECODER_RATE, voicedIn, type Decoded, type Decoder } from './decoder.ts';
import { networkOfPlan, type Network, type Plan } from './network.ts';
import { nearNames, walkPhrases, type Lexicon, type Word } from './phrases.ts';

/** What to listen for, as data. */
export interface GrammarParts {
  readonly plan: Plan;
  /** Words that the recogniser's dictionary may lack. */
  readonly words: readonly Word[];
  /** Names that are likely in this scene: the checks of the station and of the next. */
  readonly near?: (scene: Scene) => readonly string[];
}

/** The helps of the recogniser, each of which a measurement can switch off. */
export interface Aids {
  /** Likelihood of a sound of the phone loop; null: without it the grammar hears itself in everything. */
  readonly loop: number | null;
  /** Estimated signal-to-noise ratio, in decibels, under which noise is suppressed. */
  readonly suppressBelow: number;
  /** Factor on the names of the station and of the next. */
  readonly near: number;
  /** Least share of the voiced time that words must cover. */
  readonly coverage: number;
  /**
   * Least margin of the words over any sounds at all, in hundreds of the
   * recogniser's score for each voiced second; null: no such gate.
   */
  readonly margin: number | null;
  /** While a question is open, short answers are listened for alone before all the rest. */
  readonly narrow: boolean;
  /** After a short utterance, commands alone are listened for too. */
  readonly commands: boolean;
}

/** As measured by `npm run bench:listening`; each line of its table switches one of them off. */
export const AIDS: Aids = {
  loop: 0.003,
  suppressBelow: 25,
  near: 8,
  coverage: 0.6,
  // Measured on 20 utterances, 8 unrelated sentences: what was heard right in the
  // clean had 6.7 and more, at 10 dB 2.0 and more but for one; what was no walk at
  // most -0.3. Lower lets strangers' talk through, higher makes pilots repeat.
  margin: 1.5,
  narrow: true,
  commands: true,
};

/** One utterance in words; null when nothing that was said belongs to a walk. */
export interface Hearing {
  readonly text: string;
  /** Seconds from the utterance's begin. */
  readonly words: readonly HeardWord[];
  /** Share of the voiced time that the words cover, 0 to 1. */
  readonly confidence: number;
  readonly alternatives: readonly { text: string; confidence: number | null }[];
}

export interface Recogniser {
  /** Where the walk is. Takes effect with the next utterance. */
  expect(scene: Scene): void;
  /** Names that are likely now, where the scene is not known here. */
  near(names: readonly string[], question: boolean): void;
  /** @param samples one utterance at 8,000 samples a second. */
  hear(samples: Float32Array): Hearing | null;
  /** Words as they come, from unsuppressed sound: to be shown, never to be counted. */
  begin(): void;
  push(samples: Float32Array): string;
  cancel(): void;
}

export function createRecogniser(
  decoder: Decoder,
  parts: GrammarParts,
  aids: Aids = AIDS,
): Recogniser {
  decoder.addWords(parts.words);
  const network = networkOfPlan(parts.plan);
  const answers = networkOfPlan({ ...parts.plan, start: 'answer' });
  const commands = networkOfPlan({ ...parts.plan, start: 'command' });
  const orders = new Set(parts.plan.hubs['order']?.map((path) => path.say));
  let set: Network | null = null;
  let setFor = '';
  let wanted: readonly string[] = parts.near?.(FIRST_SCENE) ?? [];
  let asked = false;
  let running = false;
  listen(network);

  function listen(to: Network): void {
    const key = to === network ? wanted.join('|') : '';
    if (set === to && setFor === key) return;
    set = to;
    setFor = key;
    const boosts = to === network ? boostsOf(network, wanted, aids.near) : null;
    decoder.listenFor(to, {
      loop: aids.loop,
      boost: (state, word) => boosts?.get(state)?.get(word) ?? 1,
    });
  }

  /** Margin that these words need by what they do; 0: none beyond the usual one. */
  function leastFor(text: string): number {
    if (SETS_ASIDE.test(text)) return ASIDE_MARGIN;
    // To a question, "yes" or "the left one" is what is waited for.
    if (set === answers || !orders.has(text)) return 0;
    return COSTLY.test(text) ? COSTLY_MARGIN : COMMAND_MARGIN;
  }

  /** The best words for the sound, unless any sounds at all would do nearly as well. */
  function measured(samples: Float32Array, by: Aids): Measured | null {
    const decoded = decoder.decode(samples);
    const hearing = hearingOf(decoded, by);
    if (hearing === null) return null;
    if (by.margin === null) return { hearing, margin: 0 };
    const anything = decoder.asAnything(samples);
    const margin = (decoded.score - anything.score) / 100 / Math.max(0.1, anything.voiced);
    const least = Math.max(by.margin, leastFor(hearing.text));
    return margin < least ? null : { hearing, margin };
  }

  /** A command said alone, when it fits the sound clearly better than what else it was taken for. */
  function commandIn(samples: Float32Array, other: Measured | null, by: Aids): Hearing | null {
    listen(commands);
    const command = measured(samples, { ...by, coverage: ANSWER_COVERAGE });
    // A bare side is heard by the whole grammar too; here it once displaced a name and its verdict.
    if (command === null || SIDE.test(command.hearing.text)) return null;
    if (command.margin < Math.max(COMMAND_MARGIN, leastFor(command.hearing.text))) return null;
    return other === null || command.margin > other.margin + COMMAND_LEAD ? command.hearing : null;
  }

  function cancel(): void {
    if (running) decoder.finish();
    running = false;
  }

  return {
    expect(scene) {
      this.near(parts.near?.(scene) ?? [], scene.question !== null);
    },
    near(names, question) {
      wanted = names;
      asked = question;
      if (!running && !question) listen(network);
    },
    hear(samples) {
      cancel();
      const clean = suppress(samples, DECODER_RATE);
      const use = clean.snr < aids.suppressBelow ? clean.samples : samples;
      const short = samples.length < SHORT_ANSWER * DECODER_RATE;
      const answering = asked && aids.narrow && short;
      const by = answering ? stricter(aids) : aids;
      if (answering) {
        listen(answers);
        const answer = measured(use, { ...by, coverage: ANSWER_COVERAGE });
        if (answer !== null) return answer.hearing;
      }
      listen(network);
      const all = measured(use, by);
      if (aids.commands && aids.margin !== null && short) {
        const command = commandIn(use, all, by);
        if (command !== null) return command;
      }
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

/** The words of a decoded utterance, when they pass the gates. */
function hearingOf(decoded: Decoded, aids: Aids): Hearing | null {
  if (decoded.words.length === 0) return null;
  const voiced = voicedIn(decoded.pieces);
  const said = decoded.words.reduce((sum, w) => sum + w.to - w.from, 0);
  const coverage = voiced === 0 ? 0 : Math.min(1, said / voiced);
  if (coverage < aids.coverage) return null;
  return {
    text: decoded.words.map((w) => w.word).join(' '),
    words: decoded.words.map((w) => ({
      text: w.word,
      from: w.from,
      to: w.to,
      confidence: null,
    })),
    confidence: coverage,
    alternatives: [],
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

/** Longest sound that is tried as a short answer, in seconds, silence around it included. */
const SHORT_ANSWER = 2.2;
/** An answer has nothing but itself in it: a longer sentence that only holds a number is read as a sentence. */
const ANSWER_COVERAGE = 0.85;

/**
 * Margin of a short utterance while a question is open. A wrong number or side goes
 * into the record, a rejected one is asked for again. With two of three recordings of
 * people saying a digit, 60: below this 1 wrong and 4 right more, above it none wrong.
 */
const ANSWER_MARGIN = 5.5;
function stricter(aids: Aids): Aids {
  return { ...aids, margin: aids.margin === null ? null : Math.max(aids.margin, ANSWER_MARGIN) };
}

/** Set aside by mistake, a check is never looked at; asked to repeat it, the pilot loses a breath. */
const SETS_ASIDE = /\b(not|isn't) fitted\b|\bskip\b|\bset aside\b/;
const ASIDE_MARGIN = 5;
/** Margin of a command alone: lower acts on a cough or a word of another's, higher makes the pilot say it again. */
const COMMAND_MARGIN = 4;
/**
 * The same for commands after which nothing more may count, so that a finding said
 * then could be lost, or after which talk counts again that was not meant for the walk.
 */
const COSTLY =
  /\b(hold|pause|wait|stop|stand by|standby|finish|finished|end|complete|done|resume|continue|carry on|go on|start listening)\b/;
const COSTLY_MARGIN = 6;
const SIDE =
  /^(the )?(left|right|upper|lower|top|bottom|forward|aft|front|rear|inboard|outboard|middle|main|both|all|each|first|second|third|number) ?\w*( (one|side))?$/;
/** By how much a command must beat the whole grammar: less steals names, more leaves commands unheard. */
const COMMAND_LEAD = 0.5;

/** Words and their margin over any sounds at all. */
interface Measured {
  readonly hearing: Hearing;
  readonly margin: number;
}

export interface SampleParts {
  readonly decoder: Decoder;
  readonly grammar: GrammarParts;
  /** A new id for each utterance. */
  id(): string;
  readonly aids?: Aids;
  /** Scene after an utterance, where somebody reads them as they come. */
  readonly after?: (heard: Heard) => Scene | Promise<Scene>;
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
  parts: Pick<SampleParts, 'id' | 'after' | 'progress'>,
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
      if (hearing === null) continue;
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

/**
 * Everything that the recogniser needs to know of one catalogue.
 *
 * @param pronunciations the dictionary that the recogniser has too.
 * @param spell phones of a word by its letters, for words in no dictionary.
 */
export function walkGrammar(
  catalogue: Catalogue,
  lexicon: Lexicon,
  pronunciations: { of(word: string): readonly unknown[] },
  spell: (word: string) => readonly string[],
): GrammarParts {
  const known = (word: string) => pronunciations.of(word).length > 0;
  const phrases = walkPhrases(
    catalogue,
    lexicon,
    (word) => {
      const phones = spell(word);
      return phones.length === 0 ? null : phones;
    },
    known,
  );
  return { ...phrases, near: (scene) => nearNames(catalogue, scene.station) };
}
