import type { Catalogue } from '#shared/catalogue';
import { SEVERITIES, SEVERITY_WORDS } from '#shared/severity';
import type { ConditionSaid, Observation } from '#shared/statement';
import { lexicon } from '../lexicon.ts';
import { Signs } from '../matches/heardas.ts';
import { degreeAt } from '../readings/details.ts';
import { conditionAt, severitiesIn, spanIn } from '../readings/said.ts';
import { oneOf } from '../phrasing.ts';
import { phraseWords } from '../tokens.ts';
import {
  amended,
  askedAbout,
  content,
  SHORT,
  whole,
  type Answering,
  type AnswerReader,
} from './open.ts';
import { isYes, optionIn } from './options.ts';
import { isWord } from './answerwords.ts';

/** Whether a word calls something good, by itself. */
export const goodSaid = (word: string): boolean => isWord('well', word);
/** A "no" before a whole sentence belongs to the question, and not to the sentence. */
let opening: RegExp | null = null;
function noFirst(): RegExp {
  const { subject, states } = lexicon().answers;
  opening ??= new RegExp(`^no (?=${oneOf(subject)} ${oneOf(states)}\\b)`);
  return opening;
}

/**
 * "Good, or something wrong?", and "crack, or good?" where both were said. A bare yes is to
 * good only where good is what was said: it never turns a fault into one (R6).
 */
export const polarityAnswer: AnswerReader = (a) => {
  const before = askedAbout(a);
  if (before === null) return null;
  const { said, plain } = saidIn(a);
  const good = a.question.options.findIndex((o) => o.label === 'good');
  const picked = optionIn(a.question, a.words.tokens);
  const ill = before.conditions.some((c) => c.present) || before.verdict?.good === false;
  const well =
    picked !== null
      ? picked === good
      : isWord('well', said) || isWord('well', plain)
        ? true
        : isWord('ill', said) || isWord('ill', plain)
          ? false
          : isYes(a.words.tokens) && !ill && before.verdict?.good === true
            ? true
            : null;
  // "Watch it" says that something is wrong, and how bad.
  const offered = picked === null ? undefined : a.question.options[picked]?.label;
  const severity =
    SEVERITIES.find((s) => SEVERITY_WORDS[s] === offered) ??
    (well === null && a.words.tokens.length <= SHORT ? severitiesIn(a.words.tokens)[0] : undefined);
  // "Rough": what is wrong, by its name.
  const named = well === null && severity === undefined ? faultNamed(a, before) : null;
  if (well === null && severity === undefined && named === null) return null;
  if (well === true) return calledGood(a, before);
  const span = whole(a.words);
  return amended(
    a,
    {
      ...(named !== null
        ? { verdict: null, conditions: [named] }
        : before.conditions.some((c) => c.present)
          ? { verdict: null }
          : {
              verdict: {
                good: false,
                aspects: before.verdict?.aspects ?? [],
                actOnly: false,
                span,
              },
            }),
      ...(severity === undefined ? {} : { severity }),
    },
    `answers "${a.question.text}": something wrong`,
  );
};

/** The fault that the words name, and nothing else beside it; null where they name none. */
function faultNamed(a: Answering, before: Observation): ConditionSaid | null {
  const { tokens } = a.words;
  if (before.about.kind !== 'check' || tokens.some((t) => t.asks)) return null;
  const said = content(a.words).filter((w) => !isWord('degree-beside', w));
  const found = signsOf(a.catalogue)
    .conditionsIn(tokens)
    .filter((c) => !c.either && c.denials === 0);
  // Every word that tells something is of its name: "left tyre looks a bit soft" is another thing.
  const within = (c: { from: number; to: number }): boolean =>
    tokens.every((t, i) => !said.includes(t.word) || (i >= c.from && i < c.to));
  const match = found.find((c) => !c.weak && within(c));
  if (match === undefined || said.length > LONGEST_NAMED) return null;
  const check = a.roster.byKey.get(before.about.check)?.check ?? null;
  return {
    ...conditionAt(match.id, true, check, a.catalogue, match.sign),
    degree: degreeAt(tokens, match.from, match.to),
    span: spanIn(a.words, match.from, match.to),
  };
}
/** Words that the name of a fault has at most. */
const LONGEST_NAMED = 3;

const known = new WeakMap<Catalogue, Signs>();
function signsOf(catalogue: Catalogue): Signs {
  const made = known.get(catalogue) ?? new Signs(catalogue);
  known.set(catalogue, made);
  return made;
}

/** The words without those that add nothing, and all of them. */
function saidIn(a: Answering): { said: string; plain: string } {
  const plain = a.words.tokens
    .map((t) => t.word)
    .join(' ')
    .replace(noFirst(), '');
  const empty = a.words.tokens.length - plain.split(' ').length;
  const rest = { ...a.words, tokens: a.words.tokens.slice(empty) };
  return { said: content(rest).join(' '), plain };
}

/** What was found is called good, in answer to a question about it (R6: taken back, and shown so). */
function calledGood(a: Answering, before: Observation): Observation | null {
  return amended(
    a,
    {
      verdict: {
        good: true,
        aspects: before.verdict?.aspects ?? before.conditions.flatMap((c) => c.aspects),
        actOnly: false,
        span: whole(a.words),
      },
      conditions: [],
      severity: null,
    },
    `answers "${a.question.text}": good`,
  );
}

/** "It is good", in a sentence: a "good" or "okay" alone may be said to us, and clears no fault. */
let sentence: RegExp | null = null;
function calledWell(): RegExp {
  if (sentence !== null) return sentence;
  const { subject, states, between, sound, faultless } = lexicon().answers;
  const good = `${oneOf(subject)} ${oneOf(states)} (${oneOf(between)} )?${oneOf(sound)}`;
  sentence = new RegExp(`^(no )?(${good}|${oneOf(faultless)})$`);
  return sentence;
}

/** "It's good", to how bad it is or at which side: the fault that was asked about is none. */
export function goodAfterAll(a: Answering): Observation | null {
  const before = askedAbout(a);
  if (before === null || before.values.length > 0) return null;
  const ill = before.conditions.some((c) => c.present) || before.verdict?.good === false;
  const words = a.words.tokens.map((t) => t.word).filter((w) => !isWord('hesitating', w));
  return ill && calledWell().test(words.join(' ')) ? calledGood(a, before) : null;
}

/** "I don't know": leaves the question open, and says nothing that could be asked about. */
export function isUnknown(words: readonly string[]): boolean {
  const text = words.filter((w) => !isWord('unknown-beside', w)).join(' ');
  return lexicon().exchange.unknown.some((phrase) => phraseWords(phrase).join(' ') === text);
}
