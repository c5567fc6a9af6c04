import type { Catalogue } from '#shared/catalogue';
import type { ConditionLabels } from '../../corpus/format.ts';
import { plainWords } from '../channel.ts';
import {
  chosen,
  matchesOf,
  peerLabels,
  PEERS,
  phrasesOf,
  remembering,
  type Matcher,
} from '../grammar/peers.ts';
import type { Conversation } from './conversation.ts';
import { utteranceOf } from './readers.ts';
import { statedBy, type Said } from './tally.ts';

/**
 * The threshold that is best for each peer on the work part of the corpus, as
 * `npm run bench:grammar` finds it there. Finding it takes four minutes, so it
 * is not found again in each run.
 */
const THRESHOLDS: Readonly<Record<string, number>> = {
  'exact phrase': 0,
  'fuse.js': 0.2,
  minisearch: 0.6,
  uFuzzy: 0.4,
  'edit distance': 0.2,
  'double metaphone': 0.15,
};

export interface NamedPeer {
  readonly name: string;
  read(conversation: Conversation, texts: readonly string[], here: boolean): Said[];
}

/** General string matchers with simple rules, as in bench:grammar. They know of no words before. */
export function peersOf(names: readonly string[], conditions: ConditionLabels): NamedPeer[] {
  return PEERS.filter((p) => names.includes(p.name)).map((peer) => {
    const matchers = new Map<Catalogue, Matcher>();
    const matcherOf = (catalogue: Catalogue) => {
      const old = matchers.get(catalogue);
      if (old !== undefined) return old;
      const made = remembering(peer.build(phrasesOf(catalogue, true)));
      matchers.set(catalogue, made);
      return made;
    };
    return {
      name: peer.name,
      read(conversation, texts, here) {
        const { catalogue, lines, running } = conversation;
        const matcher = matcherOf(catalogue);
        const labels = lines.map((line, i) => {
          const text = texts[i] ?? line.say;
          const words = plainWords(text);
          const hits = chosen(matchesOf(words, matcher), THRESHOLDS[peer.name] ?? 0);
          return peerLabels(utteranceOf(line, here || !running), text, words, hits, catalogue);
        });
        const statements = statedBy(conversation, labels, conditions);
        return labels.map((own, i) => ({ labels: own, statements: statements[i] ?? [] }));
      },
    };
  });
}

export const PEER_NAMES = PEERS.map((p) => p.name);
