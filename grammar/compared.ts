import type { Question } from '#shared/question';
import type { Scene } from '#shared/scene';
import type { Observation } from '#shared/statement';
import type { Piece } from './pieces.ts';
import type { Compiled } from './read.ts';
import type { Speaker } from './speaker.ts';

type Compared = NonNullable<Observation['compared']>;

/** Words of the answer itself, when it is nothing else. */
const BARE: ReadonlyMap<string, Compared> = new Map([
  ['gone', 'gone'],
  ['fixed', 'gone'],
  ['worse', 'worse'],
  ['bigger', 'worse'],
  ['grown', 'worse'],
  ['better', 'better'],
  ['smaller', 'better'],
  ['same', 'same'],
  ['still', 'same'],
  ['there', 'same'],
]);

/** Words that may stand beside the answer and change nothing. "Not" is no such word. */
const BESIDE = new Set(
  'it its is has that the a and yes yeah um uh this now just looks seems still i think one'.split(
    ' ',
  ),
);

/**
 * What a short answer says of an open squawk: "still there", "it's grown",
 * "gone". Null unless every word of it is known: "not gone" must never close a
 * squawk, and asking again costs a breath.
 */
export function comparedAnswer(
  speaker: Speaker,
  from: number,
  to: number,
  pieces: readonly Piece[],
  scene: Scene,
  compiled: Compiled,
): Observation | null {
  const { question } = scene;
  if (question?.kind !== 'recheck') return null;
  if (pieces.some((p) => p.kind !== 'sense')) return null;
  const compared = howCompared(speaker, from, to, pieces);
  const about = placeAsked(question, compiled);
  if (compared === null || about === null) return null;
  return {
    v: 1,
    id: speaker.nextId(),
    heard: speaker.heard.id,
    kind: 'observation',
    span: speaker.span(from, to),
    why: [`answers "${question.text}": ${compared}`],
    force: 'result',
    about: { kind: 'check', ...about, span: speaker.span(from, to) },
    candidates: question.options.flatMap((o) => o.candidate ?? []).slice(0, 1),
    verdict: null,
    conditions: [],
    values: [],
    acts: [],
    severity: null,
    amends: null,
    answers: question.id,
    compared,
    squawk: false,
    doubtful: null,
  };
}

function howCompared(
  speaker: Speaker,
  from: number,
  to: number,
  pieces: readonly Piece[],
): Compared | null {
  const found = new Set<Compared>();
  const covered = new Set<number>();
  for (const piece of pieces) {
    if (piece.kind !== 'sense' || piece.match < 1) continue;
    const sense = piece.senses.find((s) => s.kind === 'compared');
    if (sense?.kind !== 'compared') continue;
    found.add(sense.how);
    for (let i = piece.from; i < piece.to; i += 1) covered.add(i);
  }
  const words = speaker.words(from, to);
  for (const [i, word] of words.entries()) {
    if (covered.has(from + i)) continue;
    // "Is it gone?" asks.
    if (i === 0 && (word === 'is' || word === 'has')) return null;
    const bare = BARE.get(word);
    if (bare !== undefined && !(bare === 'same' && found.size > 0)) found.add(bare);
    else if (bare === undefined && !BESIDE.has(word)) return null;
  }
  // "Still there and worse" is worse; any other two do not go together.
  if (found.size === 2 && found.has('same') && found.has('worse')) return 'worse';
  return found.size === 1 ? ([...found][0] ?? null) : null;
}

function placeAsked(
  question: Question,
  compiled: Compiled,
): Pick<Extract<Observation['about'], { kind: 'check' }>, 'check' | 'which'> | null {
  const candidate = question.options[0]?.candidate ?? null;
  if (candidate === null || !compiled.names.byId.has(candidate.check)) return null;
  const all = compiled.places.instances(candidate.check);
  const named = candidate.instances.length === 0 ? all : candidate.instances;
  const how = named.length === all.length ? 'all' : 'named';
  return { check: candidate.check, which: { how, instances: [...named] } };
}
