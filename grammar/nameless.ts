import { instancesOf } from '#shared/catalogue';
import type { Scene } from '#shared/scene';
import type { About, Observation, Statement } from '#shared/statement';
import { askedOf } from './aspects.ts';
import type { Clause } from './clauses.ts';
import type { ForceRead } from './forces.ts';
import { aboutItems } from './named.ts';
import { doubt, SURE_MATCH } from './doubt.ts';
import { isElsewhere } from './elsewhere.ts';
import { joint } from './joints.ts';
import { leftovers } from './leftovers.ts';
import { speaking } from './predicates.ts';
import { stem, type CheckEntry } from './names.ts';
import { isNumberWord } from './numbers.ts';
import type { ItemPiece, SensePiece } from './pieces.ts';
import { rowBefore } from './row.ts';
import { saidOf } from './said.ts';
import { siblingOf } from './sibling.ts';
import type { Speaker } from './speaker.ts';
import { partBefore, unplaced } from './unplaced.ts';
import { quantitiesIn } from './values.ts';
import { convert } from './units.ts';
import { sideFit, whichOf, whichWords, type WhichWords } from './which.ts';

interface Context {
  readonly speaker: Speaker;
  readonly clause: Clause;
  readonly scene: Scene;
  readonly read: ForceRead;
  readonly squawk: boolean;
}

/**
 * A clause without a name. "It" and plain verdicts go back to what was just named; a
 * mangled name is guessed at and asked about; a finding that fits nothing is kept
 * unplaced (R4); the rest is small talk.
 */
export function nameless(context: Context): Statement[] {
  const { speaker, clause, scene, read, squawk } = context;
  const words = speaker.words(clause.from, clause.to);
  const preds = clause.preds.filter(
    (p) => speaking(p) || p.senses.some((s) => s.kind === 'compared'),
  );
  const severity = clause.preds.flatMap((p) => p.senses).find((s) => s.kind === 'severity');
  if (
    severity?.kind === 'severity' &&
    preds.length === 0 &&
    read.force === 'result' &&
    (scene.last !== null || words.length <= 6)
  ) {
    return [
      {
        ...speaker.common(clause, [`"${words.join(' ')}" rates the latest finding`]),
        kind: 'rating',
        severity: severity.severity,
        of: scene.last?.conditions.some((c) => c.present) === true ? scene.last.id : null,
      },
    ];
  }
  const first = preds[0];
  const named =
    scene.check === null ? null : (speaker.compiled.names.byId.get(scene.check) ?? null);
  const entry = named === null ? null : (otherSide(context, named, preds[0]) ?? named);
  // "Nose tyre good. Pressure thirty psi.": what is measured there is no stranger.
  const own = entry === null ? null : askedOf(entry.check);
  const rest = leftovers(clause, speaker.tokens, clause.from).filter(
    (w) => own?.has(stem(w)) !== true,
  );
  const measured = quantitiesIn(speaker.tokens, clause.from, clause.to).some(
    (q) => q.units.length > 0,
  );
  if (first === undefined) {
    const value = entry === null ? null : valueSaid(context, entry, own);
    if (value !== null) return [value];
    if (!measured || read.force !== 'result') return [speaker.chatter(clause)];
    return (
      guessed(context, clause.from, clause.to) ??
      byUnit(context) ?? [
        speaker.chatter(clause, false, 'a value, but of what was not understood (R5)'),
      ]
    );
  }
  if (isElsewhere(clause, speaker.tokens, first)) return [speaker.chatter(clause)];
  // "It", and "(one good,) two and three …", go back to the thing just named.
  const pronoun =
    words.some((w) => joint('pronoun').has(w)) ||
    (entry !== null && rowBefore(speaker.tokens, first.from, clause.from)?.from === clause.from);
  const asked = scene.question !== null && scene.question.about === scene.last?.id;
  const open =
    entry !== null &&
    scene.last !== null &&
    scene.last.about.kind === 'check' &&
    scene.last.about.check === entry.check.id &&
    (scene.last.force === 'intention' || asked);
  const said = saidOf(
    clause,
    entry,
    speaker.tokens,
    speaker.raw,
    pronoun || open || rest.length > 0,
  );
  if (said.verdict === null && said.conditions.length === 0) {
    if (said.doubt !== null && entry !== null && rest.length === 0)
      return [aboutEntry(context, entry, true)];
    if (entry !== null && rest.length === 0) {
      const value = aboutEntry(context, entry, true);
      if (value.values.length > 0) return [doubt(speaker, value, clause, null)];
    }
    return [speaker.chatter(clause)];
  }
  // "There's the student", "landed it hard": words that are a verdict only beside a name.
  const weak = preds.every((p) => p.senses.every((s) => s.kind === 'verdict' && s.weak));
  if (weak && rest.length > 0) return [speaker.chatter(clause)];
  const before = leftovers({ ...clause, to: first.from }, speaker.tokens, clause.from);
  const behind = linkedBehind(context, first);
  const subject = words
    .slice(0, Math.max(0, first.from - clause.from))
    .some((w) => joint('pronoun').has(w));
  if (read.force === 'result' && (before.length > 0 || (behind !== null && !subject))) {
    const guess =
      before.length > 0
        ? guessed(context, clause.from, first.from)
        : guessed(context, behind ?? clause.to, clause.to);
    if (guess !== null) return guess;
  }
  const found = said.conditions.some((c) => c.present);
  if (words.includes('nothing') && !found && rest.length === 0 && entry === null)
    return [speaker.chatter(clause)];
  if (entry !== null && before.length === 0 && (behind === null || subject || !found)) {
    const general = said.conditions.length === 0 && said.verdict !== null && isRemark(words);
    if (general && !pronoun && !open) {
      return [
        speaker.chatter(clause, true, 'a remark, no result: nothing was named and nothing is open'),
      ];
    }
    return [doubt(speaker, aboutEntry(context, entry, true), clause, null)];
  }
  if (found) return [unplaced(speaker, clause, scene, read, squawk, before.join(' '))];
  if (read.force !== 'result' || (said.verdict !== null && isRemark(words)))
    return [speaker.chatter(clause)];
  return [
    speaker.chatter(clause, false, 'sounds like a result, but of what was not understood (R5)'),
  ];
}

/** "Rear second knuckle", "thirty psi": a value of the thing just named, and nothing that was not understood. */
function valueSaid(
  context: Context,
  entry: CheckEntry,
  own: ReadonlySet<string> | null,
): Observation | null {
  const { speaker, clause } = context;
  const value = aboutEntry(context, entry, true);
  if (!value.values.some((v) => v.trouble !== 'no-measure')) return null;
  const spans = value.values.map((v) => v.span);
  const rest = leftovers(clause, speaker.tokens, clause.from, spans);
  return rest.some((w) => own?.has(stem(w)) !== true) ? null : doubt(speaker, value, clause, null);
}

/** "Left tyre good, right one's cut": the same thing on the other side, where that is a check of its own. */
function otherSide(
  { speaker, clause }: Context,
  entry: CheckEntry,
  pred: SensePiece | undefined,
): CheckEntry | null {
  const words = speaker.words(clause.from, pred?.from ?? clause.to);
  const { sides } = whichWords(words, false);
  return siblingOf(entry, sides, speaker.compiled.names);
}

/** Where words that were not understood begin behind a predicate and a link ("no damage to the rubber"). */
function linkedBehind({ speaker, clause }: Context, pred: SensePiece): number | null {
  for (let i = pred.to; i < clause.to; i += 1) {
    if (!joint('near').has(speaker.tokens[i]?.word ?? '')) continue;
    return leftovers({ ...clause }, speaker.tokens, i).length > 0 ? i + 1 : null;
  }
  return null;
}

/** The name that words not understood sound most like: always asked about, never counted (R5). */
function guessed(context: Context, from: number, to: number): Statement[] | null {
  const { speaker, clause, scene, read, squawk } = context;
  const end = Math.min(clause.to, to);
  const found = speaker.compiled.byEar.guess(speaker.tokens, from, end);
  const here = (piece: ItemPiece): number =>
    piece.match +
    (piece.entry.targets.some(
      (t) => speaker.compiled.names.checks[t.check]?.station.id === scene.station,
    )
      ? HERE
      : 0);
  const best = [...found].sort((a, b) => here(b) - here(a) || b.to - b.from - (a.to - a.from))[0];
  if (best === undefined) return null;
  const item = { ...best, match: Math.min(best.match, SURE_MATCH - 0.01) };
  if (clause.preds.length === 0 && !measures(context, item)) return null;
  // A finding on a thing that is hardly recognised is kept unplaced rather than put on the wrong one (R4).
  const abnormal = saidOf(clause, null, speaker.tokens, speaker.raw, true).conditions.some(
    (c) => c.present,
  );
  if (abnormal && best.match < PLACED_GUESS) return null;
  return aboutItems(speaker, { ...clause, items: [item] }, scene, read, squawk);
}
/** Whether a check that the name can mean is measured in a unit that was said. */
function measures({ speaker, clause }: Context, item: ItemPiece): boolean {
  const units = quantitiesIn(speaker.tokens, clause.from, clause.to).flatMap((q) => q.units);
  return item.entry.targets.some(
    (t) =>
      speaker.compiled.names.checks[t.check]?.check.measures.some(
        (m) => m.unit !== undefined && units.some((u) => convert(1, u, m.unit ?? '') !== null),
      ) === true,
  );
}
/** Below this likeness a guess does not place a finding. */
const PLACED_GUESS = 0.76;

/** What the station is worth in a guess, which is asked about anyway. */
const HERE = 0.08;

/** A value whose unit only one check is measured in: "today it's twenty six volts". */
function byUnit(context: Context): Statement[] | null {
  const { speaker, clause, scene } = context;
  const words = whichWords(speaker.words(clause.from, clause.to), false);
  const units = quantitiesIn(speaker.tokens, clause.from, clause.to).flatMap((q) => q.units);
  const fits = speaker.compiled.names.checks.filter(
    (e) =>
      e.check.measures.some(
        (m) => m.unit !== undefined && units.some((u) => convert(1, u, m.unit ?? '') !== null),
      ) && sideFit(e, words.sides) >= 0,
  );
  const sided = fits.filter((e) => sideFit(e, words.sides) > 0);
  const pool = sided.length > 0 ? sided : fits;
  const here = pool.filter((e) => e.station.id === scene.station);
  const entry = pool.length === 1 ? pool[0] : here.length === 1 ? here[0] : undefined;
  if (entry === undefined) return null;
  const made = aboutEntry(context, entry, false);
  const sure =
    pool.length === 1 &&
    leftovers(
      clause,
      speaker.tokens,
      clause.from,
      made.values.map((v) => v.span),
    ).every((w) => /^(tank|tanks)$/.test(w));
  return [sure ? made : { ...made, doubtful: made.doubtful ?? `took it for ${entry.check.name}` }];
}

/** An observation on a check that the words did not name. */
function aboutEntry(context: Context, entry: CheckEntry, back: boolean): Observation {
  const { speaker, clause, scene, read, squawk } = context;
  const words = placeWords(context, entry);
  const { which, why } = whichOf(entry, words, scene, true);
  const said = saidOf(clause, entry, speaker.tokens, speaker.raw, true);
  const about: About = { kind: 'check', check: entry.check.id, which, span: null };
  const how = back ? 'the one just named' : 'the only one measured so';
  const made = speaker.observation(
    clause,
    read,
    about,
    [{ check: entry.check.id, instances: which.instances, score: 0.9, how }],
    said,
    entry,
    squawk,
    scene,
    [back ? 'goes back to the one just named' : 'its unit fits one check only', `places: ${why}`],
  );
  // "but the lower bolt is loose": a part of the thing just named is its place.
  const first = clause.preds.find(speaking);
  const part = first === undefined ? '' : partBefore(speaker, clause, first.from);
  if (part === '') return made;
  return {
    ...made,
    conditions: made.conditions.map((c) =>
      c.present && c.place === null ? { ...c, place: part } : c,
    ),
  };
}

/** Side and count words of a clause without a name. */
function placeWords({ speaker, clause, scene }: Context, entry: CheckEntry): WhichWords {
  const { last } = scene;
  const plural =
    last !== null &&
    last.about.kind === 'check' &&
    last.about.check === entry.check.id &&
    last.about.which.how === 'plural';
  // "rivet line one good, two and three loose": counts on from a numbered place.
  const numbered = instancesOf(entry.check).every((n) => /^\d+$/.test(n));
  const row =
    numbered && scene.instances.length === 1
      ? rowBefore(speaker.tokens, clause.preds.find(speaking)?.from ?? clause.from, clause.from)
      : null;
  const numbers = row === null ? [] : speaker.words(row.from, row.to).filter(isNumberWord);
  return numbers.length > 0
    ? whichWords([], plural, numbers)
    : whichWords(speaker.placeWords(clause.from, clause.to), plural);
}

/** "Okay", "great", "good": small talk as often as a verdict. */
export function isRemark(words: readonly string[]): boolean {
  return words.length <= 6 && words.every((w) => joint('remark').has(w));
}
