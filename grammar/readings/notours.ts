import type { Decision } from '../decide.ts';
import { lexicon } from '../lexicon.ts';
import { stem } from '../names.ts';
import { senses } from '../matches/senses.ts';
import type { CandidateInput } from '../scores/around.ts';
import { phraseIn, sentenceOf } from './phrases.ts';
import { ownWords } from './said.ts';
import type { Scoring } from './scoring.ts';

/**
 * Things that bear a name of the catalogue and are none of this aircraft's: "my shoes are worn
 * through", "the boom on my headset is loose", "the one next door has a leading edge without a
 * mark". What is said of them is no result (R2), whatever the scores hold. And what is promised is
 * not so yet: "the cap will be tight by the time I am done" (R1).
 */
export function withoutOthers(s: Scoring, decisions: readonly Decision[]): Decision[] {
  const { inputs } = s;
  const promised = isPromised(s);
  return decisions.flatMap((d): Decision[] => {
    const input = inputs.candidates[d.index];
    if (input === undefined || d.kind !== 'result') return [d];
    if (isWorn(s, input) || isHosted(s, input) || isOwned(s, input)) return [];
    if (d.finding !== 'no' && isTouched(s, input)) return [{ ...d, finding: 'no' }];
    if (isOfAnother(s, input))
      return [{ ...d, kind: 'talk', good: 'no', finding: 'no', value: false, doubt: false }];
    if (d.finding !== 'no' && isUncovered(s, input))
      return [{ ...d, finding: 'no', good: d.good === 'no' ? 'waits' : d.good, doubt: true }];
    if (promised && d.good !== 'no' && d.finding === 'no') return [{ ...d, doubt: true }];
    return [d];
  });
}

/** "My shoes": all that is said of the name is a word for what a person has, behind "my". */
function isWorn({ words: { tokens } }: Scoring, input: CandidateInput): boolean {
  const own = ownWords(input);
  const first = Math.min(...own);
  const { worn } = lexicon().hedges;
  return (
    own.length > 0 &&
    own.every((t) => worn.includes(tokens[t]?.word ?? '')) &&
    MINE.test(tokens[first - 1]?.word ?? '')
  );
}
const MINE = /^(my|your|his)$/;

/** "I hit the master switch": what is done to it on purpose, and no fault (R2). */
function isTouched({ words: { tokens }, inputs }: Scoring, input: CandidateInput): boolean {
  const words = tokens.map((t) => t.word);
  const { touched } = lexicon().hedges;
  const by = words.findIndex((w, i) => BY.test(w) && touched.includes(words[i + 1] ?? ''));
  const first = Math.min(...ownWords(input));
  return (
    by >= 0 &&
    first > by + 1 &&
    first <= by + 1 + TO_NAME &&
    inputs.conditions.every((c) => c.weak || c.to <= by + 2)
  );
}
const BY = /^(i|we|you)$/;
/** Words from what is done to the name: "hit the old master". */
const TO_NAME = 3;

/** "The boom on my headset", "tyres of the neighbour's tractor". */
function isHosted({ words: { tokens } }: Scoring, input: CandidateInput): boolean {
  return ownWords(input).some((own) => {
    const behind = tokens.slice(own + 1, own + 1 + FURTHEST);
    const words = behind.map((t) => t.word);
    const [joins = '', owner = ''] = words;
    const joined = joins === 'on' || joins === 'of' || (joins === 'in' && MINE.test(owner));
    const host = words.findIndex((w) => lexicon().hedges.hosts.includes(w));
    return (
      joined && OWNER.test(owner) && host > 1 && behind.slice(0, host).every((t) => t.gap === 0)
    );
  });
}
/** "The trailer's got a cut in its left tyre", "my uncle's had a crack through its mast": what has it is another thing. */
function isOwned({ words: { tokens } }: Scoring, input: CandidateInput): boolean {
  const own = ownWords(input);
  const [at] = own;
  if (at === undefined) return false;
  const [from] = sentenceOf(tokens, at);
  const words = tokens.slice(from, Math.min(...own)).map((t) => t.word);
  const has = words.findIndex((w, i) => i > 0 && i <= FAR_SUBJECT && HAS.test(w));
  const subject = words[has - 1] ?? '';
  if (has < 0 || !OWNER.test(words[0] ?? '')) return false;
  const { hosts, persons } = lexicon().hedges;
  return hosts.includes(subject) || (persons.includes(subject) && words.includes('its'));
}
const HAS = /^(has|had|have|got|with)$/;
/** Words from the beginning of the sentence to what its subject has. */
const FAR_SUBJECT = 4;

/** "On my neighbour's old tractor": words from the joining one to the host. */
const FURTHEST = 5;
const OWNER = /^(my|your|his|her|their|our|the|a|an|that|another)$/;

/**
 * "Pitot cover is off", where no cover is on the list: what came off was to come off, and is no fault of
 * the pitot tube. Whether the tube was looked at is asked (R5).
 */
function isUncovered({ words: { tokens }, inputs }: Scoring, input: CandidateInput): boolean {
  const words = tokens.map((t) => t.word);
  const called = input.member?.names.flat() ?? [];
  return ownWords(input).some((own) => {
    const cover = words[own + 1] ?? '';
    if (!COVERS.test(cover) || called.includes(stem(cover))) return false;
    const off = words.findIndex((w, i) => i > own + 1 && i <= own + 1 + TO_OFF && OFF.test(w));
    return off > 0 && inputs.conditions.every((c) => c.weak || (c.from >= own && c.to <= off + 1));
  });
}
const COVERS = /^(cover|covers|plug|plugs|bung|bungs|blank|blanks|sock|socks)$/;
const OFF = /^(off|out|removed|stowed|away)$/;
/** Words from the cover to where it is: "cover has been taken off". */
const TO_OFF = 4;

/** In one sentence with "the one next door", and with nothing that points back to this one. */
function isOfAnother({ words: { tokens } }: Scoring, input: CandidateInput): boolean {
  const own = ownWords(input);
  if (own.length === 0) return false;
  const [from, to] = sentenceOf(tokens, own[0] ?? 0);
  if (own.some((t) => t < from || t >= to)) return false;
  const said = tokens.slice(from, to);
  const words = said.map((t) => t.word).join(' ');
  const another = phraseIn(said, lexicon().hedges.others) !== null;
  return another && (LESS.test(words) || !OURS.test(words));
}
const OURS = /\b(ours|mine|hers|here|this|these|too|also|same|but|unlike|not like|than)\b/;
/** "Better than ours, that one over there." */
const LESS = /\bthan (ours|mine|this one)\b/;
/** Every word that judges stands behind "will be", in one sentence with it; "that will be fine" is a verdict. */
function isPromised({ words: { tokens: said }, inputs: { tokens, conditions } }: Scoring): boolean {
  const phrase = phraseIn(said, lexicon().hedges.promised);
  if (phrase === null || ALLOWED.test(said[phrase.to]?.word ?? '')) return false;
  const { names } = senses();
  const judges = tokens.flatMap((t, i) =>
    t.senses.some((k) => /^(verdict|condition)/.test(names[k] ?? '')) ? [i] : [],
  );
  const [, end] = sentenceOf(tokens, phrase.from);
  return (
    conditions.every((c) => c.from >= phrase.to) &&
    judges.length > 0 &&
    judges.every((i) => i >= phrase.to && i < end)
  );
}
const ALLOWED = /^(fine|okay|ok|good|alright|all|enough|plenty)$/;
