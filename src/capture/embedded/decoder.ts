import createModule from 'soundswallower';
import { END, type Network } from './network.ts';

/** The recogniser's own rate: its model looks at nothing above 3,700 Hz, so 8,000 a second are enough. */
export const DECODER_RATE = 8_000;

/** One word or sound of a decoded utterance; times in seconds from its begin. */
export interface Piece {
  readonly word: string;
  readonly from: number;
  readonly to: number;
}

export interface Decoded {
  /** Words only, in order: no silence, no loop sounds, no marks of alternative pronunciations. */
  readonly words: readonly Piece[];
  /** Everything: words, sounds of the phone loop (`ph_aa`), silences (`<sil>`). */
  readonly pieces: readonly Piece[];
  /** Logarithm of the best path's likelihood, in the recogniser's own unit; 0 when there is no path. */
  readonly score: number;
}

/** A sound as a row of sounds, of no words. */
export interface Anything {
  readonly score: number;
  /** Seconds that are not silence. */
  readonly voiced: number;
  /** Sounds of the phone loop (`ph_aa`) and silences. */
  readonly pieces: readonly Piece[];
}

/** How strongly the network's alternatives are weighted. */
export interface Weights {
  /** Likelihood of one sound of the phone loop beside the network; null leaves the loop out. */
  readonly loop: number | null;
  /** Factor on an arc of the network: above 1 what is expected now. */
  readonly boost?: (state: number, word: string) => number;
}

export interface Decoder {
  /**
   * Adds words, and other ways to say words that are there: an author's own beside
   * the dictionary's. Never during an utterance. @throws Error that names the word.
   */
  addWords(words: readonly { readonly word: string; readonly phones: readonly string[] }[]): void;
  has(word: string): boolean;
  /** What to listen for from now on. Never during an utterance. */
  listenFor(network: Network, weights: Weights): void;
  /**
   * A whole utterance at once, at 8,000 samples a second.
   *
   * @param like more of the same voice in the same place: one word says too little of how
   * both sound, and is set off against itself without it.
   */
  decode(samples: Float32Array, like?: Float32Array): Decoded;
  /**
   * The same sound as a row of sounds, of no words: what it would score if it
   * were anything at all.
   */
  asAnything(samples: Float32Array, like?: Float32Array): Anything;
  /** Sounds of a word as the recogniser knows it, its first way; empty where it has none. */
  phonesOf(word: string): readonly string[];
  start(): void;
  push(samples: Float32Array): void;
  /** Words so far. */
  partial(): string;
  finish(): Decoded;
  /**
   * Stretches the frequencies that it listens at to a speaker's vocal tract: 1 as
   * the model was made, more for a shorter tract. Never during an utterance.
   */
  tune(warp: number): Promise<void>;
  /** Bytes that the recogniser's memory has grown to. */
  heap(): number;
  /** Frees the decoder. Its memory comes back only when the worker ends. */
  close(): void;
}

/**
 * Each frame's scores are set off against the best one of the sounds that are
 * computed for it. Only when all are do two grammars give scores that can be
 * compared: without this a grammar of few words seems to fit better.
 */
const ALL_SOUNDS = { compallsen: true };

/** The phones of the model, without its three noises. */
const PHONES =
  'AA AE AH AO AW AY B CH D DH EH ER EY F G HH IH IY JH K L M N NG OW OY P R S SH T TH UH UW V W Y Z ZH'.split(
    ' ',
  );
const LOOP = /^ph_/;

/** The inner functions of the recogniser that its typed surface leaves out. */
interface Inner {
  HEAP_DATA_VIEW: DataView;
  HEAPU8: Uint8Array;
  _malloc(bytes: number): number;
  _free(at: number): void;
  _decoder_logmath(decoder: number): number;
  _logmath_log(logmath: number, p: number): number;
  _fsg_model_init(name: number, logmath: number, lw: number, states: number): number;
  _fsg_model_word_add(fsg: number, word: number): number;
  _fsg_model_trans_add(fsg: number, from: number, to: number, logp: number, word: number): void;
  _fsg_model_null_trans_add(fsg: number, from: number, to: number, logp: number): number;
  _fsg_set_states(fsg: number, start: number, end: number): void;
  _decoder_set_fsg(decoder: number, fsg: number): number;
  _decoder_hyp(decoder: number, score: number): number;
  _decoder_init_fe(decoder: number): number;
  _decoder_init_feat_s3file(decoder: number, transform: number): number;
  _acmod_reinit_feat(model: number, front: number, features: number): number;
  Decoder: new (config: Record<string, string | number | boolean>) => Raw;
}

interface Raw {
  cdecoder: number;
  cacmod: number;
  initialize(): Promise<void>;
  delete(): void;
  start(): void;
  stop(): void;
  process_audio(samples: Float32Array, noSearch: boolean, whole: boolean): number;
  get_text(): string;
  get_alignment(): { w?: { t: string; b: number; d: number }[] };
  lookup_word(word: string): string | null;
  add_words(...words: [string, string][]): void;
  get_config(key: string): number;
  set_config(key: string, value: string | number): boolean;
  reinitialize_audio(): Promise<void>;
}

/**
 * Loads the recogniser and its model.
 *
 * @param modelBase folder or absolute address that holds `en-us/`, ending in "/".
 * @throws Error when a file of the model is missing or cut.
 */
export async function loadDecoder(
  modelBase: string,
  settings: Record<string, string | number | boolean> = {},
): Promise<Decoder> {
  const quiet = () => undefined;
  const module = (await createModule({
    print: quiet,
    printErr: quiet,
    modelBase,
  } as Partial<EmscriptenModule>)) as unknown as Inner;
  const raw = new module.Decoder({
    loglevel: 'FATAL',
    samprate: DECODER_RATE,
    nfft: 256,
    ...ALL_SOUNDS,
    ...settings,
  });
  await raw.initialize();
  // A second one that knows no words: the dictionary of noises is all it needs.
  const plain = new module.Decoder({
    loglevel: 'FATAL',
    samprate: DECODER_RATE,
    nfft: 256,
    // Any file of the model without words in it: the phones are added below.
    dict: `${modelBase}en-us/phoneset.json`,
    ...ALL_SOUNDS,
    ...settings,
  });
  await plain.initialize();
  for (const one of [raw, plain])
    for (const phone of PHONES) {
      const word = `ph_${phone.toLowerCase()}`;
      if (one.lookup_word(word) === null) one.add_words([word, phone]);
    }
  const words = decoderOf(module, raw);
  const sounds = decoderOf(module, plain);
  sounds.listenFor(ANYTHING, { loop: 1 / PHONES.length });
  return {
    ...words,
    asAnything(samples, like) {
      const { pieces, score } = sounds.decode(samples, like);
      return { score, voiced: voicedIn(pieces), pieces };
    },
    async tune(warp) {
      await words.tune(warp);
      await sounds.tune(warp);
    },
    close() {
      words.close();
      sounds.close();
    },
  };
}

/** One state at which any sound may follow any other. */
const ANYTHING: Network = {
  arcs: [new Map()],
  likely: [new Map()],
  joins: [new Map([[END, 1]])],
  loop: 0,
  nameStarts: [],
  hubs: [''],
};

/** Seconds that are not silence. */
export function voicedIn(pieces: readonly Piece[]): number {
  return pieces.reduce((sum, p) => (/^[<[(]/.test(p.word) ? sum : sum + p.to - p.from), 0);
}

function decoderOf(module: Inner, raw: Raw): Omit<Decoder, 'asAnything'> {
  /** Sound came in pieces since the features were made afresh. */
  let inPieces = false;

  function text(value: string): number {
    const bytes = new TextEncoder().encode(value);
    const at = module._malloc(bytes.length + 1);
    module.HEAPU8.set(bytes, at);
    module.HEAPU8[at + bytes.length] = 0;
    return at;
  }

  function score(): number {
    const at = module._malloc(4);
    module.HEAP_DATA_VIEW.setInt32(at, 0, true);
    module._decoder_hyp(raw.cdecoder, at);
    const value = module.HEAP_DATA_VIEW.getInt32(at, true);
    module._free(at);
    return value;
  }

  /**
   * Sound that came in pieces is set off against the mean of what was before it, and from
   * then on so is every whole utterance: words would be measured by another mean than the
   * row of any sounds, and by another one each time. Made afresh it goes by its own again.
   */
  function afresh(): void {
    const front = module._decoder_init_fe(raw.cdecoder);
    const features = module._decoder_init_feat_s3file(raw.cdecoder, 0);
    if (module._acmod_reinit_feat(raw.cacmod, front, features) < 0)
      throw new Error('The recogniser could not be set back after sound in pieces.');
    inPieces = false;
  }

  function result(): Decoded {
    const found = raw.get_text();
    // Silence alone has no text, but a score: that of the sound as silence.
    if (found === '') return { words: [], pieces: [], score: score() };
    const pieces = (raw.get_alignment().w ?? []).map(({ t, b, d }) => ({
      word: t.replace(/\(\d+\)$/, ''),
      from: b,
      to: b + d,
    }));
    const words = pieces.filter(({ word }) => !LOOP.test(word) && !/^[<[(]/.test(word));
    return { words, pieces, score: score() };
  }

  return {
    addWords(words) {
      for (const { word, phones } of words) {
        // "rotor", then "rotor(2)": the recogniser takes them for one word.
        let as = word;
        let way: string | null;
        for (let n = 2; (way = raw.lookup_word(as)) !== null; n += 1) {
          if (way.trim() === phones.join(' ')) break;
          as = `${word}(${n})`;
        }
        if (way !== null) continue;
        const unknown = phones.find((phone) => !PHONES.includes(phone));
        if (phones.length === 0 || unknown !== undefined)
          throw new Error(
            `The word "${word}" has no usable pronunciation${unknown === undefined ? '' : `: "${unknown}" is no phone`}.`,
          );
        raw.add_words([as, phones.join(' ')]);
      }
    },
    has: (word) => raw.lookup_word(word) !== null,
    phonesOf: (word) =>
      raw
        .lookup_word(word)
        ?.split(/\s+/)
        .filter((p) => p !== '') ?? [],
    listenFor(network, weights) {
      const logmath = module._decoder_logmath(raw.cdecoder);
      const lw = raw.get_config('lw');
      const log = (p: number) => Math.round(module._logmath_log(logmath, p) * lw);
      const end = network.arcs.length;
      const name = text('walk');
      const fsg = module._fsg_model_init(name, logmath, lw, end + 1);
      module._free(name);
      const ids = new Map<string, number>();
      const id = (word: string): number => {
        let known = ids.get(word);
        if (known === undefined) {
          const at = text(word);
          known = module._fsg_model_word_add(fsg, at);
          module._free(at);
          ids.set(word, known);
        }
        return known;
      };
      network.arcs.forEach((arcs, from) => {
        for (const [word, to] of arcs) {
          const share = network.likely[from]?.get(word) ?? 1 / arcs.size;
          const p = Math.min(1, share * (weights.boost?.(from, word) ?? 1));
          module._fsg_model_trans_add(fsg, from, to, log(p), id(word));
        }
      });
      network.joins.forEach((out, from) => {
        for (const [to, p] of out) {
          if (to === network.loop && weights.loop === null) continue;
          module._fsg_model_null_trans_add(fsg, from, to === END ? end : to, log(p));
        }
      });
      if (network.loop !== null && weights.loop !== null)
        for (const phone of PHONES)
          module._fsg_model_trans_add(
            fsg,
            network.loop,
            network.loop,
            log(weights.loop),
            id(`ph_${phone.toLowerCase()}`),
          );
      module._fsg_set_states(fsg, 0, end);
      if (module._decoder_set_fsg(raw.cdecoder, fsg) < 0) {
        const missing = [...ids.keys()].filter((word) => raw.lookup_word(word) === null);
        throw new Error(
          missing.length > 0
            ? `The recogniser has no pronunciation of: ${missing.slice(0, 10).join(', ')}.`
            : 'The recogniser refused the grammar.',
        );
      }
    },
    decode(samples, like) {
      if (inPieces) afresh();
      if (like !== undefined) {
        // Without a search, for the mean of its features alone; what then comes as a piece
        // is set off against that mean instead of its own.
        raw.start();
        raw.process_audio(like, true, true);
        raw.stop();
        inPieces = true;
      }
      raw.start();
      raw.process_audio(samples, false, like === undefined);
      raw.stop();
      return result();
    },
    start() {
      inPieces = true;
      raw.start();
    },
    push: (samples) => void raw.process_audio(samples, false, false),
    partial: () =>
      raw
        .get_text()
        .split(' ')
        .filter((word) => word !== '' && !LOOP.test(word) && !/^[<[(]/.test(word))
        .join(' '),
    finish() {
      raw.stop();
      return result();
    },
    async tune(warp) {
      raw.set_config('warp_type', 'inverse_linear');
      raw.set_config('warp_params', warp.toFixed(3));
      await raw.reinitialize_audio();
    },
    heap: () => module.HEAPU8.byteLength,
    close: () => raw.delete(),
  };
}
