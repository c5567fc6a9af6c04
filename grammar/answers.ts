import type { Scene } from '#shared/scene';
import type { Question } from '#shared/question';
import type { Observation, Statement } from '#shared/statement';
import { aspectsOf } from './aspects.ts';
import { comparedAnswer } from './compared.ts';
import { lexicon } from './lexicon.ts';
import { stems } from './names.ts';
import type { Piece } from './pieces.ts';
import type { Compiled } from './read.ts';
import type { Speaker } from './speaker.ts';
import { phraseWords } from './tokens.ts';
import { Trie, type Hit } from './trie.ts';
import { convert, unitTrie } from './units.ts';
import { placesAnswered } from './whichone.ts';

/** More words than this are no short answer: they are read as any other sentence. */
const SHORT = 7;

const EMPTY = new Set([
  'the',
  'one',
  'it',
  'is',
  'that',
  'on',
  'was',
  'a',
  'side',
  'hand',
  'of',
  'i',
  'mean',
  'please',
  'um',
  'uh',
  'yes',
  'yeah',
  'just',
  'only',
  'ones',
  'and',
  'this',
  'them',
]);

/** Beside a unit these add nothing ("in quarts", "they're quarts"). */
const OF_UNITS = new Set([
  'in',
  'its',
  'they',
  'those',
  'are',
  'that',
  'course',
  'measured',
  'all',
]);

/** Said of every place at once, for the option that the product adds to the places ("both", "all 3"). */
const EVERY = ['both', 'all', 'every', 'each'];
/** The sides as sailors name them. */
const SIDES: ReadonlyMap<string, string> = new Map(
  Object.entries({ port: 'left', starboard: 'right' }),
);

/**
 * What a short sentence answers to the open question; null where it is none.
 * The answer carries what was said before over to the check that was meant.
 */
export function answerOf(
  speaker: Speaker,
  from: number,
  to: number,
  pieces: readonly Piece[],
  scene: Scene,
  compiled: Compiled,
): Statement | null {
  const { question } = scene;
  if (question === null || to - from > SHORT) return null;
  const words = speaker.words(from, to);
  const severity = pieces
    .flatMap((p) => (p.kind === 'sense' ? p.senses : []))
    .find((s) => s.kind === 'severity');
  if (question.kind === 'severity' && severity?.kind === 'severity') {
    return {
      v: 1,
      id: speaker.nextId(),
      heard: speaker.heard.id,
      kind: 'rating',
      severity: severity.severity,
      of: question.about,
      span: speaker.span(from, to),
      why: [`answers "${question.text}"`],
    };
  }
  if (question.kind === 'unit' || question.kind === 'value')
    return unitSaid(speaker, from, to, scene, compiled);
  if (question.kind === 'recheck')
    return comparedAnswer(speaker, from, to, pieces, scene, compiled);
  const option =
    optionOf(question, words, compiled) ??
    (question.kind === 'which-instance' ? placesAnswered(question, words, compiled) : null);
  if (option === null) return null;
  const before = scene.last !== null && scene.last.id === question.about ? scene.last : null;
  const { candidate } = option;
  if (candidate === null) return null;
  const entry = compiled.names.byId.get(candidate.check);
  if (entry === undefined) return null;
  const instances =
    candidate.instances.length > 0
      ? candidate.instances
      : compiled.places.instances(candidate.check);
  const all = compiled.places.instances(candidate.check);
  const answered: Observation = {
    v: 1,
    id: speaker.nextId(),
    heard: speaker.heard.id,
    kind: 'observation',
    span: speaker.span(from, to),
    why: [`answers "${question.text}": ${option.label}`],
    force: 'result',
    about: {
      kind: 'check',
      check: candidate.check,
      which: { how: instances.length === all.length ? 'all' : 'named', instances: [...instances] },
      span: speaker.span(from, to),
    },
    candidates: [candidate],
    verdict:
      before === null || before.verdict === null
        ? null
        : carried(before.verdict, entry.check.id, before, compiled),
    conditions: before?.conditions ?? [],
    values: before?.values ?? [],
    acts: before?.acts ?? [],
    severity: before?.severity ?? null,
    amends: question.about,
    answers: question.id,
    compared: before?.compared ?? null,
    squawk: before?.squawk ?? false,
    doubtful: null,
  };
  return answered;
}

/**
 * As `answerOf`, where the answer is the whole sentence or stands before its first pause
 * ("left, the right's fine"). `to` is where it ends.
 */
export function answerBefore(
  speaker: Speaker,
  from: number,
  to: number,
  pieces: readonly Piece[],
  scene: Scene,
  compiled: Compiled,
): { statement: Statement; to: number } | null {
  const whole = answerOf(speaker, from, to, pieces, scene, compiled);
  if (whole !== null) return { statement: whole, to };
  if (scene.question?.kind !== 'which-instance' && scene.question?.kind !== 'which-check')
    return null;
  let end = from + 1;
  while (end < to && (speaker.tokens[end]?.gap ?? 0) === 0) end += 1;
  // "Right, battery's tight." goes on to the next thing.
  const opener = end - from === 1 && speaker.tokens[from]?.word === 'right';
  if (end >= to || (opener && pieces.some((p) => p.kind === 'item' && p.from >= end))) return null;
  const own = pieces.filter((p) => p.to <= end);
  const first = answerOf(speaker, from, end, own, scene, compiled);
  return first === null ? null : { statement: first, to: end };
}

/** "Quarts." to "seven of what?": the number said before, now with its unit (R8). */
function unitSaid(
  speaker: Speaker,
  from: number,
  to: number,
  scene: Scene,
  compiled: Compiled,
): Statement | null {
  const { question, last } = scene;
  if (
    question === null ||
    last === null ||
    last.id !== question.about ||
    last.about.kind !== 'check'
  )
    return null;
  const words = speaker.words(from, to).filter((w) => !EMPTY.has(w) && !OF_UNITS.has(w));
  // "Gallons, US ones."
  const turned = [...words.slice(-1), ...words.slice(0, -1)];
  const whole = (list: readonly string[]): Hit<readonly string[]> | null => {
    const hit = unitTrie().longest(list, 0);
    return hit?.to === list.length ? hit : null;
  };
  const unit = whole(words) ?? whole(turned);
  if (unit === null) return null;
  const entry = compiled.names.byId.get(last.about.check);
  if (entry === undefined) return null;
  const values = last.values.map((value) => {
    if (value.trouble === null || value.low === null || value.high === null) return value;
    for (const measure of entry.check.measures) {
      if (value.measure !== null && measure.id !== value.measure) continue;
      for (const code of unit.item) {
        const low = measure.unit === undefined ? null : convert(value.low, code, measure.unit);
        const high = measure.unit === undefined ? null : convert(value.high, code, measure.unit);
        if (low === null || high === null || measure.unit === undefined) continue;
        return {
          ...value,
          measure: measure.id,
          unit: code,
          inUnit: { low, high, unit: measure.unit },
          trouble: null,
        };
      }
    }
    return { ...value, unit: unit.item[0] ?? null, trouble: 'wrong-unit' as const };
  });
  return {
    ...last,
    id: speaker.nextId(),
    heard: speaker.heard.id,
    span: speaker.span(from, to),
    why: [`answers "${question.text}" with the unit`],
    values,
    amends: question.about,
    answers: question.id,
  };
}

function carried(
  verdict: NonNullable<Observation['verdict']>,
  check: string,
  before: Observation,
  compiled: Compiled,
): NonNullable<Observation['verdict']> {
  if (before.about.kind === 'check' && before.about.check === check) return verdict;
  const entry = compiled.names.byId.get(check);
  const general = entry === undefined ? null : aspectsOf(entry.check).general;
  return verdict.aspects.length > 0
    ? verdict
    : { ...verdict, aspects: general === null ? [] : [general] };
}

function optionOf(
  question: Question,
  words: readonly string[],
  compiled: Compiled,
): Question['options'][number] | null {
  const content = words.filter((w) => !EMPTY.has(w));
  if (content.length === 0) return null;
  // The last one by itself, not "both of them".
  const last = question.options.filter((o) => (o.candidate?.instances.length ?? 1) < 2).length - 1;
  const ordinal = { first: 0, former: 0, second: 1, third: 2, fourth: 3, latter: last }[
    content.join(' ')
  ];
  const own = [...new Set(content.map((w) => SIDES.get(w) ?? w))].flatMap((w) => stems(w));
  let best: { option: Question['options'][number]; hits: number } | null = null;
  let tie = false;
  for (const option of question.options) {
    const entry =
      option.candidate === null ? undefined : compiled.names.byId.get(option.candidate.check);
    const label = new Set([
      ...stems(option.label),
      ...phraseWords(option.label),
      ...(entry === undefined ? [] : entry.words),
      // "Left" is the left one and not both of them, though both holds it.
      ...(question.kind === 'which-instance' && (option.candidate?.instances.length ?? 0) > 1
        ? EVERY
        : (option.candidate?.instances ?? [])
      ).flatMap((i) => stems(i)),
    ]);
    const hits = own.filter((w) => label.has(w)).length;
    if (hits < own.length) continue;
    if (best === null) best = { option, hits };
    else tie = true;
  }
  if (best !== null && !tie) return best.option;
  return ordinal === undefined ? null : (question.options[ordinal] ?? null);
}

let unknown: Trie<true> | null = null;
/** "I don't know.": leaves the question open, and says nothing that could be asked about. */
export function isUnknown(words: readonly string[]): boolean {
  if (unknown === null) {
    unknown = new Trie();
    for (const phrase of lexicon().exchange.unknown) unknown.add(phraseWords(phrase), true);
  }
  while (/^(sorry|really|honestly|mate|now|yet)$/.test(words.at(-1) ?? ''))
    words = words.slice(0, -1);
  let from = 0;
  while (/^(um|uh|er|erm|well|oh|sorry|hmm|no|honestly|i)$/.test(words[from] ?? '')) {
    if (unknown.longest(words, from)?.to === words.length) return true;
    from += 1;
  }
  return unknown.longest(words, from)?.to === words.length;
}
