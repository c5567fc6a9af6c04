import { createHash } from 'node:crypto';
import type { Catalogue } from '#shared/catalogue';
import type { Reader } from '#shared/reader';
import type { ConditionLabels } from '../../corpus/format.ts';
import { heardAt, type Conversation } from './conversation.ts';
import { familyOf } from './forms.ts';
import { intervalsOf, type Intervals } from './intervals.ts';
import { measuresOf, type Measures } from './measures.ts';
import type { NamedPeer } from './peers.ts';
import { readBy, type NamedReader, type ReaderName } from './readers.ts';
import { summed, tallyOf, type WalkTally } from './tally.ts';

/** One reader at one level, over all walks. */
export interface Row {
  readonly measures: Measures;
  /** null for figures that were kept without one. */
  readonly intervals: Intervals | null;
}

/** Everything that a run measured. */
export interface Judged {
  /** By word error rate in per cent, then by reader. */
  readonly rows: ReadonlyMap<number, ReadonlyMap<ReaderName, Row>>;
  readonly peers: ReadonlyMap<number, { name: string; measures: Measures }>;
  /** By family of form, at 0 %. */
  readonly byForm: ReadonlyMap<string, ReadonlyMap<ReaderName, Measures>>;
  /** Walks and utterance numbers at which a reader threw; never their words. */
  readonly crashes: readonly string[];
  /** Faults of the first reader, when they were asked for. */
  readonly errors: readonly string[];
}

export interface Job {
  readonly conversations: readonly Conversation[];
  readonly levels: readonly number[];
  readonly readers: readonly NamedReader[];
  readonly peers: readonly NamedPeer[];
  readonly here: boolean;
  readonly conditions: ConditionLabels;
  /** Whether the faults of the first reader are collected; never for a report part. */
  readonly errors: boolean;
}

/** Judges every reader on every walk at every level. */
export function judge(job: Job): Judged {
  const { conversations, levels, readers, peers, here, conditions } = job;
  const crashes: string[] = [];
  const errors: string[] = [];
  const rows = new Map<number, Map<ReaderName, Row>>();
  const bestPeers = new Map<number, { name: string; measures: Measures }>();
  const byForm = new Map<string, Map<ReaderName, Measures>>();
  const built = new Map<NamedReader, Map<Catalogue, Reader>>();
  const readerOf = (named: NamedReader, catalogue: Catalogue): Reader | null => {
    const own = built.get(named) ?? new Map<Catalogue, Reader>();
    built.set(named, own);
    const old = own.get(catalogue);
    if (old !== undefined || named.build === null) return old ?? null;
    const made = named.build(catalogue);
    own.set(catalogue, made);
    return made;
  };
  for (const level of levels) {
    const row = new Map<ReaderName, Row>();
    rows.set(level, row);
    for (const named of readers) {
      const tallies = conversations.flatMap((conversation): WalkTally[] => {
        const reader = readerOf(named, conversation.catalogue);
        if (reader === null) return [];
        const texts = heardAt(conversation, level);
        let failed = 0;
        const crashed = (line: number) => {
          failed += 1;
          crashes.push(`${named.name} at ${level} %: ${conversation.id}, utterance ${line + 1}`);
        };
        const said = readBy(reader, conversation, texts, { here, crashed });
        const tally = tallyOf(conversation, texts, said, conditions);
        tally.more.crashes = failed;
        if (job.errors && named === readers[0]) errors.push(...tally.score.errors);
        tally.score.errors.length = 0;
        return [tally];
      });
      if (tallies.length === 0) continue;
      row.set(named.name, {
        measures: measuresOf(summed(tallies)),
        intervals: intervalsOf(tallies),
      });
      if (level === 0) addForms(byForm, named.name, conversations, tallies);
    }
    const best = bestPeer(job, level);
    if (best !== null) bestPeers.set(level, best);
  }
  return { rows, peers: bestPeers, byForm, crashes, errors };

  function bestPeer({ peers: all }: Job, level: number) {
    return peers.length === 0
      ? null
      : all
          .map((peer) => {
            const tallies = conversations.map((conversation) => {
              const texts = heardAt(conversation, level);
              const said = peer.read(conversation, texts, here);
              return tallyOf(conversation, texts, said, conditions);
            });
            return { name: peer.name, measures: measuresOf(summed(tallies)) };
          })
          .reduce((a, b) => (b.measures.checkF1 > a.measures.checkF1 ? b : a));
  }
}

function addForms(
  byForm: Map<string, Map<ReaderName, Measures>>,
  name: ReaderName,
  conversations: readonly Conversation[],
  tallies: readonly WalkTally[],
): void {
  const families = [...new Set(conversations.map((c) => familyOf(c.form)))].sort();
  for (const family of families) {
    const own = tallies.filter((_, i) => familyOf(conversations[i]?.form ?? '') === family);
    const row = byForm.get(family) ?? new Map<ReaderName, Measures>();
    byForm.set(family, row.set(name, measuresOf(summed(own))));
  }
}

/**
 * Hash of what is judged, words and labels: kept figures hold for nothing else. Of
 * the catalogues only the ids go in, so that a field that the format of catalogues
 * gets later does not make old figures strangers.
 */
export function hashOf(conversations: readonly Conversation[]): string {
  const hash = createHash('sha256');
  const sorted = [...conversations].sort((a, b) => (a.id < b.id ? -1 : 1));
  for (const { id, catalogue, lines } of sorted) {
    const ids = catalogue.stations.map((s) => [s.id, s.checks.map((c) => c.id)]);
    hash.update(JSON.stringify([id, ids, lines]));
  }
  return hash.digest('hex');
}
