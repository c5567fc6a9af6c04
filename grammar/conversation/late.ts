import type { Question } from '#shared/question';
import type { Scene } from '#shared/scene';
import type { Observation, Statement } from '#shared/statement';
import { stem, stems } from '../names.ts';
import { numbersIn } from '../numbers.ts';
import { severitiesIn } from '../readings/said.ts';
import { phraseWords, tokensOf } from '../tokens.ts';
import { convert, unitTrie } from '../units.ts';
import { answerOf } from './answers.ts';
import type { Answering } from './open.ts';
import { bareWords } from './options.ts';

/**
 * An answer that comes after other things were said and its question was put aside: "quarts",
 * "the left one". Only the words that were offered are taken so. A yes, a good, a number or an
 * order belongs to what is being talked about now; and what fits two questions is guessed for
 * neither (R5).
 */
export function lateAnswer(a: Omit<Answering, 'question'>): readonly Statement[] | null {
  const taken = a.scene.aside.flatMap((question) => {
    const late = { ...a, question };
    if (!isOffered(late)) return [];
    return [answerOf(late) ?? []].filter((made) => made.length > 0);
  });
  const [only] = taken;
  return taken.length === 1 && only !== undefined ? only : null;
}

/** Words that a unit has at most: "pounds per square inch". */
const LONGEST_UNIT = 4;
/** More utterances than this after it was told, and a name alone is what is looked at next. */
const NAMED_WITHIN = 3;

/** Whether the words are of those that the question offered, and can be of nothing that was said since. */
function isOffered(a: Answering): boolean {
  const { question, words, scene } = a;
  const said = bareWords(words.tokens).filter((w) => w !== 'one');
  // "Right." goes on, "the right" is a side.
  if (words.tokens.length === 1 && said[0] === 'right') return false;
  if (said.length === 0 || words.tokens.some((t) => t.asks)) return false;
  const fresh = justFound(scene);
  switch (question.kind) {
    case 'unit': {
      const list = words.tokens.map((t) => t.word);
      const codes = list.flatMap((_, i) => unitTrie().longest(list, i)?.item ?? []);
      if (codes.length === 0 || said.length > LONGEST_UNIT || numbersIn(list).length > 0)
        return false;
      // As long may the fault be that was told last.
      return fresh === null || codes.every((code) => convert(1, code, '[in_i]') === null);
    }
    case 'which-instance':
      return inLabels(question, said) && (fresh === null || !hasPlace(fresh, question));
    case 'value':
    case 'choice':
      return inLabels(question, said);
    case 'which-check':
    case 'place':
      return fresh === null && isRecent(a) && inLabels(question, said);
    case 'severity':
      return (
        fresh === null &&
        scene.question?.kind !== 'severity' &&
        severitiesIn(words.tokens).length === 1 &&
        inLabels(question, said)
      );
    case 'polarity': {
      // The words of the fault, or that something is wrong; a good belongs to what is talked of now.
      const fault = question.options.find((o) => o.label !== 'good')?.label ?? '';
      const own =
        said.join(' ') === bareWords(tokensOf({ text: fault, words: [] }).tokens).join(' ');
      return fresh === null && own && isRecent(a);
    }
    case 'recheck':
    case 'recap':
    case 'which-fault':
      return false;
  }
}

function inLabels({ options }: Question, said: readonly string[]): boolean {
  const known = new Set(
    options.flatMap(({ label }) => [
      ...stems(label),
      ...phraseWords(label).flatMap((w) => [w, stem(w)]),
    ]),
  );
  return said.every((w) => known.has(w) || known.has(stem(w)));
}

/** What was found in the utterance before this one, whose details these words may be. */
function justFound({ last, talk, question }: Scene): Observation | null {
  const [now] = talk.turns.slice(-1);
  const before = talk.turns.findLast((t) => t.heard !== now?.heard);
  if (last === null || last.heard !== before?.heard) return null;
  // It is being asked about, and these words were no answer to that.
  if (question !== null && question.about === last.id) return null;
  return last.conditions.some((c) => c.present) || last.verdict?.good === false ? last : null;
}

/** Whether a place that was offered may as well be one of what was found since. */
const hasPlace = ({ about }: Observation, { options }: Question): boolean =>
  about.kind !== 'check' ||
  options.some(({ candidate }) => candidate?.check === about.check) ||
  about.which.how === 'one';

/** Whether what was asked about was told only a few utterances ago. */
function isRecent({ scene, question }: Answering): boolean {
  const of = scene.talk.told.findLast((o) => o.id === question.about);
  const latest = [...new Set(scene.talk.turns.map((t) => t.heard))].slice(-NAMED_WITHIN - 1);
  return of !== undefined && latest.includes(of.heard);
}
