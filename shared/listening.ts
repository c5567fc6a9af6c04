import type { Scene } from './scene.ts';

/*
 * What a recogniser is to listen for: compiled by the grammar from the words that it
 * reads by, obeyed by the recogniser on the device. Plain data, so that it can be sent
 * to a worker; nothing of it is kept.
 */

/**
 * A grammar in pieces. Each hub is compiled by itself, which keeps the whole
 * small: a verdict ends in an empty arc to what may follow, instead of in a copy
 * of all of it.
 *
 * The recogniser knows hubs by their names: `name`, `station` and `it` say what is spoken
 * of; `general`, `condition`, `value`, `step`, `unfitted`, `is-…` and `own-…` what it is
 * like; `order` and `command` are said to Talkround.
 */
export interface Plan {
  /** Rules in JSGF that the hubs use. */
  readonly rules: string;
  readonly hubs: Readonly<Record<string, readonly Path[]>>;
  /** What may follow: hubs, `end` or `loop`, each with its likelihood. */
  readonly groups: Readonly<Record<string, Readonly<Record<string, number>>>>;
  /** Group that an utterance begins with. */
  readonly start: string;
  /** Words that need to be surer than others by what they do; left out: none. */
  readonly dear?: Dear;
}

export interface Path {
  /** JSGF expression. */
  readonly say: string;
  /** Group that follows. */
  readonly then: string;
  /** How often it is said beside the other paths of its hub; only for plain words. Left out: 1. */
  readonly weight?: number;
}

/** Phrases by what a wrong hearing of them costs. */
export interface Dear {
  /**
   * Orders after which nothing more may count, so that a finding said then could be
   * lost, or after which talk counts again that was not meant for the walk.
   */
  readonly stops: readonly string[];
  /** They set a check aside: it is then never looked at. */
  readonly aside: readonly string[];
  /** A side by itself: an answer, or the begin of a name. */
  readonly sides: readonly string[];
}

/** A word with its sounds, as ARPABET without stress. */
export interface SoundedWord {
  readonly word: string;
  readonly phones: readonly string[];
}

/** Everything that the recogniser needs to know of one aircraft. */
export interface Listening {
  readonly plan: Plan;
  /** Words that the recogniser's dictionary may lack, or knows otherwise than their author. */
  readonly words: readonly SoundedWord[];
  /** Names that are likely in a scene, as they are listened for. */
  readonly near?: (scene: Scene) => readonly string[];
}
