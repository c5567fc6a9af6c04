import type { Catalogue } from '#shared/catalogue';
import type { Label, Utterance } from '../../corpus/format.ts';
import type { CorpusSet } from '../../corpus/load.ts';
import type { SpokenWalk } from '../../corpus/walks.ts';
import { damageAll } from '../channel.ts';

/** One utterance with its truth, as the bench reads it. */
export type Line = Pick<Utterance, 'say' | 'after' | 'heard'> & {
  /** Station where the speaker stands by the label; null when the label does not say. */
  readonly at: string | null;
  readonly labels: readonly Label[];
  /** The open question that it answers. */
  readonly asked: NonNullable<Utterance['asked']> | null;
};

/** What is read and judged together: a walk, or one voice's single utterances. */
export interface Conversation {
  readonly id: string;
  /** As its writer calls it, such as "teaching, unpunctuated". */
  readonly form: string;
  readonly catalogue: Catalogue;
  /** false: each line is read by itself, with the words before it that the corpus gives. */
  readonly running: boolean;
  readonly lines: readonly Line[];
}

/**
 * Other words that writers used for an order of Talkround. Left as they are, no
 * reader could ever be right there.
 */
const SAME_ORDER: Readonly<Record<string, string>> = { 'whats-left': 'left', remaining: 'left' };

function plainOrder(label: Label): Label {
  if (label.kind !== 'order' || label.name !== 'command') return label;
  return { ...label, of: SAME_ORDER[label.of] ?? label.of };
}

export function conversationOf(walk: SpokenWalk): Conversation {
  return {
    id: walk.id,
    form: walk.form,
    catalogue: walk.catalogue,
    running: true,
    lines: walk.talk.map((u) => ({
      at: u.at,
      say: u.say,
      labels: u.labels.map(plainOrder),
      asked: u.asked,
      after: [],
      heard: [],
    })),
  };
}

/** Single utterances, a conversation for each voice, so that the bootstrap draws speakers. */
export function voicesOf(set: CorpusSet): Conversation[] {
  const voices = [...new Set(set.utterances.map((u) => u.voice))];
  return voices.map((voice) => ({
    id: `${set.name}/${voice}`,
    form: 'single utterances',
    catalogue: set.catalogue,
    running: false,
    lines: set.utterances
      .filter((u) => u.voice === voice)
      .map((u) => ({
        at: u.at ?? null,
        say: u.say,
        labels: u.labels.map(plainOrder),
        asked: u.asked ?? null,
        after: u.after,
        heard: u.heard,
      })),
  }));
}

const kept = new WeakMap<Conversation, Map<number, readonly string[]>>();

/** The words of a conversation at a word error rate in per cent, the same for every reader. */
export function heardAt(conversation: Conversation, percent: number): readonly string[] {
  const levels = kept.get(conversation) ?? new Map<number, readonly string[]>();
  kept.set(conversation, levels);
  const old = levels.get(percent);
  if (old !== undefined) return old;
  const said = conversation.lines.map((l) => l.say);
  const { texts } = damageAll(said, percent / 100, seedOf(conversation.id));
  levels.set(percent, texts);
  return texts;
}

/** FNV-1a of the id: a walk is damaged alike whichever other walks are judged with it. */
export function seedOf(id: string): number {
  let hash = 0x811c9dc5;
  for (const char of id) hash = Math.imul(hash ^ (char.codePointAt(0) ?? 0), 0x01000193);
  return hash >>> 0;
}
