import { readFileSync } from 'node:fs';
import { transcriptHeard } from '#capture';
import { parseCatalogue } from '#catalogue';
import { createGrammar, parseDictionary, type Grammar } from '#grammar';
import { CATALOGUES, type SeedWalk } from '#seeds';
import type { Catalogue } from '#shared/catalogue';
import type { Coverage } from '#shared/coverage';
import type { Heard } from '#shared/heard';
import { FIRST_SCENE, type Scene } from '#shared/scene';
import type { Statement } from '#shared/statement';
import { memoryStore } from '#store';
import { walkThrough } from '#wire';
import { testWeights } from '../weights.ts';

const DICTIONARY = 'node_modules/soundswallower/model/en-us/dict.txt';
const pronunciations = parseDictionary(readFileSync(DICTIONARY, 'utf8'));
const grammars = new Map<string, { catalogue: Catalogue; grammar: Grammar }>();

/** A catalogue and its grammar, made once. */
export function grammarOf(name: string): { catalogue: Catalogue; grammar: Grammar } {
  const kept = grammars.get(name);
  if (kept !== undefined) return kept;
  const seed = CATALOGUES.find((c) => c.name === name);
  const read = parseCatalogue(seed?.text ?? '', `${name}.yaml`);
  if (!read.ok) throw new Error(`${name} is not sound.`);
  const made = {
    catalogue: read.catalogue,
    grammar: createGrammar(read.catalogue, { pronunciations, weights: testWeights() }),
  };
  grammars.set(name, made);
  return made;
}

/** The utterances of a sample walk. */
export function heardOf(walk: SeedWalk): Heard[] {
  const read = transcriptHeard(walk.text, walk.file);
  if (!read.ok) throw new Error(read.error);
  return read.heard;
}

/** Plays utterances through grammar, session, log and reconciler, as the program does with a file. */
export async function play(catalogue: string, heard: readonly Heard[]): Promise<Coverage> {
  let ids = 0;
  const world = {
    id: () => `00000000-0000-7000-8000-${String((ids += 1)).padStart(12, '0')}`,
    now: () => Date.UTC(2026, 0, 5) + ids,
    steady: () => ids / 1000,
  };
  const made = grammarOf(catalogue);
  const { coverage } = await walkThrough({
    catalogue: made.catalogue,
    reader: made.grammar,
    log: await memoryStore(world),
    world,
    heard,
    aircraft: 'demonstration',
    circumstances: [],
  });
  return coverage;
}

/** Typed words as an utterance, the nth of its walk. */
export function typedHeard(text: string, n: number): Heard {
  return {
    v: 1,
    id: `typed-${n}`,
    by: 'typed',
    text,
    words: [],
    alternatives: [],
    from: null,
    to: null,
    confidence: null,
    sound: null,
    speaker: null,
    sentAway: false,
  };
}

/** What is made of the last of these utterances, each read behind those before it. */
export function readLast(craft: string, ...said: string[]): readonly Statement[] {
  const { grammar } = grammarOf(craft);
  let scene: Scene = FIRST_SCENE;
  let statements: readonly Statement[] = [];
  said.forEach((words, n) => {
    ({ scene, statements } = grammar.read(typedHeard(words, n), scene));
  });
  return statements;
}
