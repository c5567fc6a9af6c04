import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { createGrammar, parseDictionary, readWeights, type Weights } from '#grammar';
import type { Catalogue } from '#shared/catalogue';
import type { Heard } from '#shared/heard';
import type { Question } from '#shared/question';
import type { Reader } from '#shared/reader';
import { FIRST_SCENE, type Scene } from '#shared/scene';
import type { Statement } from '#shared/statement';
import { parseLabel, checksById, type Utterance } from '../../corpus/format.ts';
import { dictionaryText } from '../phones.ts';

let pronunciations: ReturnType<typeof parseDictionary> | null = null;

/** The learned scores of the project, from its root; another file may be tried by the environment. */
export const WEIGHTS_FILE = process.env['READER_WEIGHTS'] ?? 'public/reader/scores.bin';
let weights: Weights | null = null;
export function ourWeights(): Weights {
  if (weights !== null) return weights;
  const root = fileURLToPath(new URL('../../../', import.meta.url));
  const file = WEIGHTS_FILE.startsWith('/') ? WEIGHTS_FILE : `${root}${WEIGHTS_FILE}`;
  const { buffer, byteOffset, byteLength } = readFileSync(file);
  weights = readWeights(buffer.slice(byteOffset, byteOffset + byteLength) as ArrayBuffer);
  return weights;
}

/** Our own reader over a catalogue. */
export function ourReader(catalogue: Catalogue): ReturnType<typeof createGrammar> {
  pronunciations ??= parseDictionary(dictionaryText());
  return createGrammar(catalogue, { pronunciations, weights: ourWeights() });
}

/** Words as a recogniser delivers them, without times. */
export function heardOf(text: string, id = 'h', alternatives: readonly string[] = []): Heard {
  return {
    v: 1,
    id,
    by: 'scripted',
    text,
    words: [],
    alternatives: alternatives.map((t) => ({ text: t, confidence: null })),
    from: null,
    to: null,
    confidence: null,
    sound: null,
    speaker: null,
    sentAway: false,
  };
}

/** The scene of an utterance: where the speaker stands, what was said before, what was asked. */
export function sceneOf(reader: Reader, utterance: Utterance, catalogue: Catalogue): Scene {
  let scene: Scene = { ...FIRST_SCENE, station: utterance.at ?? null };
  let last: Statement | undefined;
  utterance.after.forEach((text, i) => {
    const reading = reader.read(heardOf(text, `before-${i}`), scene);
    scene = reading.scene;
    last = reading.statements.at(-1) ?? last;
  });
  if (utterance.asked === undefined) return scene;
  const checks = checksById(catalogue);
  const places = utterance.asked.kind === 'which-instance';
  const options = utterance.asked.options.map((option) => {
    const label = parseLabel(option, catalogue, checks, {});
    const check = label.kind === 'claim' ? (label.checks[0] ?? '') : '';
    const instances = label.kind === 'claim' ? [...label.instances] : [];
    const name = `${places ? '' : (checks.get(check)?.name ?? '')} ${instances.join(' ')}`.trim();
    return { label: name, candidate: { check, instances, score: 0.5, how: 'asked' } };
  });
  // As the product asks (src/record/questions.ts): the places by name, and all of them at once.
  const all = options.flatMap((o) => o.candidate.instances);
  const first = options[0]?.candidate;
  const every =
    places && first !== undefined
      ? [
          {
            label: all.length === 2 ? 'both' : `all ${all.length}`,
            candidate: { ...first, instances: all },
          },
        ]
      : [];
  const question: Question = {
    id: 'q',
    about: last?.id ?? 'before-0',
    kind: utterance.asked.kind,
    text: '',
    options: [...options, ...every],
  };
  return { ...scene, question };
}
