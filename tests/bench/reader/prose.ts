import { existsSync, readFileSync } from 'node:fs';
import { parseCatalogue } from '#catalogue';
import { CATALOGUES } from '#seeds';
import type { Catalogue } from '#shared/catalogue';
import { CorpusError } from '../../corpus/format.ts';
import { spokenUnits } from '../grammar/spoken.ts';
import type { Conversation } from './conversation.ts';
import { outcomeOf } from './product.ts';
import { readBy, type NamedReader } from './readers.ts';
import { findingsIn } from './tally.ts';

/** What was made of sentences of which none is about a walk. */
export interface ProseCounts {
  sentences: number;
  /** Checks spoken for, each once a sentence. */
  spokenFor: number;
  findings: number;
  questions: number;
  /** Commands, ratings and the like. Naming a place moves nobody by itself and is none. */
  orders: number;
}

/** The catalogues for pilots, which both sorts of aircraft come with. */
const STARTERS = ['training-helicopter', 'training-aeroplane'];

export function starters(): Catalogue[] {
  return STARTERS.map((name) => {
    const seed = CATALOGUES.find((c) => c.name === name);
    const read = parseCatalogue(seed?.text ?? '', `${name}.yaml`);
    if (!read.ok) throw new Error(`The starter catalogue ${name} does not read.`);
    return read.catalogue;
  });
}

/** Sentences of a file, one a line. Throws CorpusError with one sentence. */
export function sentencesIn(file: string): string[] {
  if (!existsSync(file)) throw new CorpusError(`There is no file ${file}.`);
  return readFileSync(file, 'utf8')
    .split(/\r?\n/)
    .map((line) => line.trim())
    .filter((line) => line !== '');
}

/**
 * Reads each sentence by itself, in a conversation that goes on: the first over
 * one starter catalogue, the second over the other, and so on in turn. Orders do
 * nothing here, so that a walk held by mistake does not silence the questions
 * that come after.
 */
export function proseOf(
  sentences: readonly string[],
  reader: NamedReader,
  catalogues: readonly Catalogue[] = starters(),
): ProseCounts {
  const counts = {
    sentences: sentences.length,
    spokenFor: 0,
    findings: 0,
    questions: 0,
    orders: 0,
  };
  const { build } = reader;
  if (build === null) return counts;
  catalogues.forEach((catalogue, turn) => {
    const own = sentences.filter((_, i) => i % catalogues.length === turn);
    const conversation: Conversation = {
      id: `prose-${turn}`,
      form: 'prose',
      catalogue,
      running: true,
      lines: own.map((say) => ({ at: null, say, labels: [], asked: null, after: [], heard: [] })),
    };
    const said = readBy(build(catalogue), conversation, own, {
      here: false,
      crashed: (line) => console.error(`The reader fails at the sentence "${own[line] ?? ''}".`),
    });
    for (const { labels, statements } of said) {
      const checks = [...spokenUnits(labels, catalogue)].map((unit) => unit.split('#')[0]);
      counts.spokenFor += new Set(checks).size;
      counts.findings += findingsIn(statements, catalogue).length;
      counts.orders += labels.filter((l) => l.kind === 'order' && l.name !== 'arrive').length;
    }
    const silent = said.map((s) => s.statements.filter((own) => own.kind !== 'command'));
    for (const { severity, other } of outcomeOf(catalogue, silent).asks) {
      counts.questions += severity + other;
    }
  });
  return counts;
}
