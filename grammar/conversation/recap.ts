import { instancesOf } from '#shared/catalogue';
import type { Observation, Statement } from '#shared/statement';
import { stem, stems } from '../names.ts';
import { whole, type Answering, type AnswerReader } from './open.ts';
import { isYes, optionIn } from './options.ts';
import { MAY_BE_FAULT } from '../readings/said.ts';
import { notSo } from './retracted.ts';
import { isWord } from './answerwords.ts';

/**
 * "Left wing, two things: …. All good?": what waited, in one go. A yes makes them good, a no
 * leaves them unspoken, and "all but the cap", "the first one" or a name picks among them.
 */

export const recapAnswer: AnswerReader = (a) => {
  const items = (a.question.items ?? []).flatMap((item) => {
    // What waits longest may have been told too long ago to be among the last.
    const { told, waiting } = a.scene.talk;
    const said = [...told, ...waiting].findLast((o) => o.id === item.statement);
    return said === undefined ? [] : [{ ...item, said }];
  });
  if (items.length === 0) return null;
  // What has been spoken of since is settled already: a yes to the others says nothing of it (R6).
  const waits = new Set(a.scene.talk.waiting.map((o) => o.id));
  const settled = (list: readonly Statement[]): Statement[] =>
    list.filter((s) => {
      const of = s.kind === 'retraction' ? s.of : s.kind === 'observation' ? s.amends : null;
      return of !== null && waits.has(of);
    });
  const answer = answerIn(a, items);
  return answer === null ? null : settled(answer);
};

type Item = { readonly statement: string; readonly label: string; readonly said: Observation };

function answerIn(a: Answering, items: readonly Item[]): readonly Statement[] | null {
  const words = a.words.tokens.map((t) => t.word);
  if (
    isYes(a.words.tokens) ||
    (words.every((w) => isWord('recap-good', w)) &&
      words.some((w) => isWord('every', w) || /^(good|fine|yes)$/.test(w)))
  )
    return items.map(({ said }) => good(a, said));
  if (
    words.every((w) => isWord('recap-no', w)) &&
    /^(no|nope|neither|none|negative)$/.test(words[0] ?? '')
  )
    return items.map(({ said }) => open(a, said));
  const but = words.findIndex((w) => isWord('but', w));
  const head = but < 0 ? words : words.slice(0, but);
  const named = (list: readonly string[]): readonly Item[] => {
    const own = list
      .filter(
        (w) =>
          !isWord('recap-good', w) &&
          !isWord('only', w) &&
          !isWord('but', w) &&
          w !== 'for' &&
          w !== 'from',
      )
      .map(stem);
    if (own.length === 0) return [];
    return items.filter(({ label }) => {
      const label0 = new Set(stems(label));
      return own.every((w) => label0.has(w));
    });
  };
  if (
    but >= 0 &&
    (head.some((w) => isWord('every', w)) || head.some((w) => /^(yes|yeah)$/.test(w)))
  ) {
    const left = named(words.slice(but + 1));
    if (left.length === 0) return null;
    return items.map((item) => (left.includes(item) ? open(a, item.said) : good(a, item.said)));
  }
  // What was said twice is told, and picked, once.
  const labels = [...new Set(items.map(({ label }) => label))];
  const options = labels.map((label) => ({ label, candidate: null }));
  const picked = optionIn(
    { ...a.question, options },
    a.words.tokens.filter((t) => !isWord('only', t.word)),
  );
  const one =
    picked === null ? named(words) : items.filter(({ label }) => label === labels[picked]);
  // A name with a verdict is read as any other sentence, and closes the question by itself.
  const things = new Set(one.map(({ label }) => label)).size;
  if (things !== 1 || (words.some((w) => /^(good|fine)$/.test(w)) && picked === null)) return null;
  return one.map(({ said }) => good(a, said));
}

function good(a: Answering, said: Observation): Statement {
  const about = said.about;
  const check = about.kind === 'check' ? a.roster.byKey.get(about.check)?.check : null;
  const all = check === null || check === undefined ? [] : [...instancesOf(check)];
  return {
    ...said,
    id: a.nextId(),
    heard: a.heard.id,
    span: whole(a.words),
    why: [`answers "${a.question.text}": good`],
    about:
      about.kind === 'check' && about.which.how === 'plural'
        ? { ...about, which: { how: 'all', instances: all } }
        : about,
    amends: said.id,
    answers: a.question.id,
    doubtful: null,
    waits: false,
  };
}

/**
 * It was not so: what was only half heard is taken back, and the check is open again. But where
 * the words may have told a fault, a no to "good" may be that fault: it is asked about (R4).
 */
function open(a: Answering, said: Observation): Statement {
  const why = `answers "${a.question.text}": no`;
  if (said.doubtful !== MAY_BE_FAULT) return notSo(a, whole(a.words), said, why);
  return {
    ...said,
    id: a.nextId(),
    heard: a.heard.id,
    why: [why],
    verdict: { good: false, aspects: [], actOnly: false, span: said.span },
    conditions: [],
    amends: said.id,
    answers: a.question.id,
    waits: false,
  };
}
