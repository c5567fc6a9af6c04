import { instancesOf } from '#shared/catalogue';
import type { Question } from '#shared/question';
import type { Observation } from '#shared/statement';
import { aspectsOf } from '../aspects.ts';
import { placeWordsOf } from '../matches/heardas.ts';
import type { Member } from '../matches/roster.ts';
import { stem, stems } from '../names.ts';
import { phraseWords, type Token } from '../tokens.ts';
import { optionIn } from './options.ts';
import { placeWord } from './placed.ts';
import { goodAfterAll } from './polarity.ts';
import { askedAbout, content, SHORT, whole, type Answering, type AnswerReader } from './open.ts';
import { isWord, says } from './answerwords.ts';

type Option = Question['options'][number];

/** Which check, or which of its places: by the words offered, by order, by number, in part. */
export const whichAnswer: AnswerReader = (a) => {
  const good = a.question.kind === 'which-instance' ? goodAfterAll(a) : null;
  if (good !== null) return good;
  if (a.words.tokens.length > SHORT) return null;
  const option = optionOf(a);
  const candidate = option?.candidate ?? null;
  if (option === null || candidate === null) return null;
  const member = a.roster.byKey.get(candidate.check);
  const check = member?.check ?? null;
  if (check === null) return null;
  const all = [...instancesOf(check)];
  const instances = candidate.instances.length > 0 ? candidate.instances : all;
  const before = askedAbout(a);
  const span = whole(a.words);
  const verdict = before?.verdict ?? null;
  const general = aspectsOf(check).general;
  const answered: Observation = {
    v: 1,
    id: a.nextId(),
    heard: a.heard.id,
    kind: 'observation',
    span,
    why: [`answers "${a.question.text}": ${option.label}`],
    force: 'result',
    about: {
      kind: 'check',
      check: check.id,
      which: { how: instances.length === all.length ? 'all' : 'named', instances: [...instances] },
      span,
    },
    candidates: [candidate],
    verdict:
      verdict === null || verdict.aspects.length > 0 || general === null
        ? verdict
        : { ...verdict, aspects: [general] },
    conditions: before?.conditions ?? [],
    values: before?.values ?? [],
    acts: before?.acts ?? [],
    severity: before?.severity ?? null,
    amends: a.question.about,
    answers: a.question.id,
    compared: before?.compared ?? null,
    squawk: before?.squawk ?? false,
    doubtful: null,
  };
  return answered;
};

/** Said of some that are not told apart, or of the one that is left: no answer by itself (R5). */
export const picksOpen = (text: string): boolean => says('unsettled', text);

/** The option that these words pick; null where they fit none, or two as well. */
function optionOf(a: Answering): Option | null {
  const { question, words } = a;
  const said = content(words);
  const text = words.tokens.map((t) => t.word).join(' ');
  if (said.length === 0 || (picksOpen(text) && !/\b(both|all)\b/.test(text))) return null;
  if (question.kind === 'which-instance') {
    const places = placesOf(a);
    if (places !== null) return places;
  }
  const own = said.flatMap((w) => (stems(w).length > 0 ? stems(w) : [stem(w)]));
  let best: { option: Option; hits: number } | null = null;
  let tie = false;
  for (const option of question.options) {
    const label = new Set([...stems(option.label), ...phraseWords(option.label)]);
    const member = a.roster.byKey.get(option.candidate?.check ?? '');
    const names = new Set([
      ...label,
      ...(member?.names.flat() ?? []),
      ...(question.kind === 'which-check' || question.kind === 'place'
        ? [...(member?.sides ?? []), ...(member?.stationSides ?? [])]
        : []),
      ...(option.candidate?.instances ?? []).flatMap((i) => stems(i)),
    ]);
    const hits = own.filter((w) => names.has(w)).length;
    if (hits === 0 || hits < own.length) continue;
    // The words offered, to the letter, beat a part of them.
    const exact = said.join(' ') === phraseWords(option.label).join(' ') ? 100 : 0;
    if (best === null || hits + exact > best.hits) {
      best = { option, hits: hits + exact };
      tie = false;
    } else if (hits + exact === best.hits) tie = true;
  }
  if (best !== null && !tie) return best.option;
  // By number or order: the places themselves, and not "both of them" behind them.
  const single = question.options.filter((o) => (o.candidate?.instances.length ?? 1) < 2);
  const pool = single.length > 0 ? single : question.options;
  const picked = optionIn({ ...question, options: pool }, words.tokens);
  return picked === null ? null : (pool[picked] ?? null);
}

/** "Both", "two", "one and three", "the left", "neither of … but the right". */
function placesOf({ question, words, roster, scene }: Answering): Option | null {
  const first = question.options.find((o) => o.candidate !== null)?.candidate ?? null;
  const member = roster.byKey.get(first?.check ?? '');
  if (first === null || member === undefined) return null;
  const open = new Set(question.options.flatMap((o) => o.candidate?.instances ?? []));
  const list = words.tokens.map((t) => t.word);
  if (list.some((w) => isWord('each', w)) && !list.includes('not') && !list.includes('but')) {
    // "Both fronts": all of those that the words name.
    const meant = member.instances.filter((i) => open.has(i) && isOf(i, member, words.tokens));
    if (meant.length === 0) return null;
    return { label: meant.join(' and '), candidate: { ...first, instances: meant } };
  }
  const not = list.indexOf('not');
  // "The front ones": of one word for several, all of them.
  if (not < 0 && (list.at(-1) === 'ones' || isWord('several', list.at(-1) ?? ''))) {
    const several = member.instances.filter((i) => open.has(i) && isOf(i, member, words.tokens));
    if (several.length > 1 && several.length < open.size)
      return { label: several.join(' and '), candidate: { ...first, instances: several } };
  }
  const from = not < 0 ? 0 : list.findIndex((w, i) => i > not + 1 && /^(the|but|it)$/.test(w));
  if (from < 0) return null;
  const marks = placeWordsOf(words.tokens.slice(from));
  const meant = new Set<string>();
  const earlier = partSaid(scene, member);
  member.instances.forEach((place, i) => {
    const own = member.instanceWords[i] ?? [];
    const number = own.length === 1 && /^\d+$/.test(own[0] ?? '') ? Number(own[0]) : null;
    const spoken = [
      ...words.tokens.slice(from).map((t, k) => marks.sides[k] ?? placeWord(t.word)),
      ...earlier,
    ];
    const byWord = own.length > 0 && own.every((w) => spoken.includes(w));
    const byNumber =
      number !== null && marks.counts.some((n, k) => n === number && !points(list, from + k));
    const byOrder = marks.orders.some(
      (n) => n === i || (n === -1 && i === member.instances.length - 1),
    );
    if (open.has(place) && (byWord || byNumber || byOrder)) meant.add(place);
  });
  const known = list.every(
    (w, i) =>
      isWord('which', w) ||
      (marks.sides[i - from] ?? null) !== null ||
      (marks.orders[i - from] ?? null) !== null ||
      (marks.counts[i - from] ?? null) !== null ||
      member.instanceWords.some((ws) => ws.includes(placeWord(w))),
  );
  if (meant.size === 0 || !known) return null;
  const instances = [...meant];
  return { label: instances.join(' and '), candidate: { ...first, instances } };
}

/** Whether a place has every word for a place that is said; true where none is. */
function isOf(place: string, { instances, instanceWords }: Member, tokens: readonly Token[]) {
  const own = new Set(instanceWords[instances.indexOf(place)] ?? []);
  const known = new Set(instanceWords.flat());
  return tokens.every(({ word }) => !known.has(singular(word)) || own.has(singular(word)));
}

const singular = (word: string): string =>
  placeWord(isWord('several', word) ? word.slice(0, -1) : word);

/** "Front", said before "left" to the same question: a part of a place, that fitted several. */
function partSaid({ talk }: Answering['scene'], { instanceWords }: Member): string[] {
  const now = talk.turns.at(-1)?.heard;
  const before = talk.turns.findLast((t) => t.heard !== now);
  const said = phraseWords(before?.text ?? '').filter((w) => !isWord('which', w));
  const known = new Set(instanceWords.flat());
  return said.length > 0 && said.every((w) => known.has(stem(w))) ? said.map(stem) : [];
}

/** "Front", of four: it fits several of the places that were offered, and picks none (R5). */
export function fitsSeveral({ question, words, roster }: Answering): boolean {
  if (question.kind !== 'which-instance') return false;
  const member = roster.byKey.get(question.options[0]?.candidate?.check ?? '');
  const said = words.tokens.filter((t) => !isWord('which', t.word));
  if (member === undefined || said.length === 0) return false;
  const known = new Set(member.instanceWords.flat());
  return (
    said.every((t) => known.has(singular(t.word))) &&
    member.instances.filter((i) => isOf(i, member, said)).length > 1
  );
}

/** "The left one" is one of them, and not number one. */
const points = (list: readonly string[], at: number): boolean =>
  /^(one|ones)$/.test(list[at] ?? '') &&
  /^(the|this|that|last|other|left|right|upper|lower|front|rear|middle)$/.test(list[at - 1] ?? '');
