import type { Scene } from '#shared/scene';
import type { About, Statement } from '#shared/statement';
import type { Clause } from './clauses.ts';
import { doubt } from './doubt.ts';
import { echoed, echoOf } from './echo.ts';
import type { ForceRead } from './forces.ts';
import { joint } from './joints.ts';
import { leftovers } from './leftovers.ts';
import { isPlural, SIDE_WORDS, stem, type CheckEntry } from './names.ts';
import { isNumberWord } from './numbers.ts';
import type { ItemPiece } from './pieces.ts';
import { speaking } from './predicates.ts';
import { saidOf, type Said } from './said.ts';
import { sameAgain } from './same.ts';
import { siblingOf } from './sibling.ts';
import type { Speaker } from './speaker.ts';
import { subjectOf, type Subject } from './subject.ts';
import { phraseWords } from './tokens.ts';
import { unplaced } from './unplaced.ts';
import { quantitiesIn } from './values.ts';
import { whichOf, whichWords, type WhichWords } from './which.ts';

/**
 * The clause before that named something which the scene does not hold, because it
 * was talk or a tie: "last week this line was weeping; today it's dry".
 */
export function borrow(speaker: Speaker, clause: Clause, scene: Scene): Clause | null {
  const topic = speaker.topic ?? (scene.check === null ? speaker.anySuch : null);
  const first = clause.preds.find((p) => speaking(p));
  const pointed = speaker
    .words(clause.from, clause.from + 3)
    .some((w) => /^(this|that|these|those|it|there|they|ours|mine)$/.test(w));
  if (topic === null) return null;
  const measured = quantitiesIn(speaker.tokens, clause.from, clause.to).length > 0;
  const echo = echoOf(speaker.words(clause.from, clause.to)) !== null;
  if (first === undefined && !measured && !pointed && !echo) return null;
  const item = topic.items[0];
  if (item === undefined) return null;
  if (
    leftovers({ ...clause, to: first?.from ?? clause.to }, speaker.tokens, clause.from).length > 0
  )
    return null;
  const subject = subjectOf(item, speaker.compiled.names, speaker.whichWordsAt(item, topic), scene);
  if (subject === null) return null;
  return !echo && subject.near.length === 1 && subject.near[0]?.entry.check.id === scene.check
    ? null
    : topic;
}

export function aboutItems(
  speaker: Speaker,
  clause: Clause,
  scene: Scene,
  read: ForceRead,
  squawk: boolean,
  source: Clause = clause,
): Statement[] {
  const out: Statement[] = [];
  const denied = clause.items.filter((it) => isDenied(speaker, it, clause));
  if (denied.length > 0 && denied.length === clause.items.length) {
    // "Not the left aileron, …": what is meant was not understood.
    const part = speaker.span(clause.from, clause.to).words;
    return [unplaced(speaker, clause, scene, read, squawk, part)];
  }
  for (const item of clause.items) {
    if (denied.includes(item) && denied.length < clause.items.length) continue;
    const words = placesSaid(speaker, clause, source) ?? speaker.whichWordsAt(item, source);
    const subject = subjectOf(item, speaker.compiled.names, words, scene);
    if (subject === null) {
      out.push(
        unplaced(speaker, clause, scene, read, squawk, speaker.span(item.from, item.to).words),
      );
      continue;
    }
    const entry = subject.near[0]?.entry;
    if (entry === undefined) continue;
    const kinds = new Set(clause.preds.flatMap((p) => p.senses.map((s) => s.kind)));
    let said = saidOf(clause, entry, speaker.tokens, speaker.raw, true);
    const echo =
      source === clause && said.verdict === null && said.conditions.length === 0
        ? echoBehind(speaker, item, clause)
        : null;
    if (echo !== null && speaker.told !== null) {
      const earlier = saidOf(speaker.told, entry, speaker.tokens, speaker.raw, true);
      said = echoed(echo, earlier) ?? said;
    }
    if (source !== clause && said.verdict === null && said.conditions.length === 0)
      said = carriedOver(speaker, clause, source, entry, said);
    const likewise = kinds.has('same') || isLikewise(speaker, item, clause);
    if (likewise && said.verdict === null && said.conditions.length === 0) {
      // "Port aileron free, port hinges sound, starboard aileron the same": as its own twin was.
      const twin = speaker.twinOf(entry);
      const same = sameAgain(
        speaker,
        clause,
        twin === null ? scene : { ...scene, last: twin },
        read,
        { entry, words },
      );
      if (same !== null) {
        out.push(same);
        continue;
      }
    }
    // "Left brake, two drops of fluid on the disc": a part of its name, after the name itself.
    const short = (item.entry.targets.find((t) => t.check === entry.index)?.score ?? 1) < 1;
    const { which, why } = whichOf(
      entry,
      subject.sides.length > 0
        ? { ...words, sides: [...new Set([...words.sides, ...subject.sides])] }
        : words,
      scene,
      short && words.plural === false,
    );
    const about: About = {
      kind: 'check',
      check: entry.check.id,
      which,
      span: speaker.span(item.from, item.to),
    };
    const candidates = subject.candidates.map((c) =>
      c.check === entry.check.id ? { ...c, instances: which.instances } : c,
    );
    let observation = speaker.observation(
      clause,
      read,
      about,
      candidates,
      said,
      entry,
      squawk,
      scene,
      [`"${about.span?.words ?? ''}" is ${subject.why}`, `places: ${why}`],
    );
    const empty =
      said.verdict === null &&
      said.conditions.length === 0 &&
      observation.values.length === 0 &&
      observation.compared === null;
    if (empty && read.force === 'result' && said.doubt === null && read.doubt === null) {
      const rest = leftovers(
        clause,
        speaker.tokens,
        clause.from,
        observation.values.map((v) => v.span),
      );
      const tail = speaker.tokens[clause.to - 1]?.word ?? '';
      const cut =
        /^(is|are|has|have|got|looks|look|not|no|a|the|feels|seems)$/.test(tail) ||
        speaker.tokens[clause.to - 1]?.short === true ||
        // "The strip's turned": something was said of it.
        (item.to < clause.to &&
          speaker.tokens[item.to - 1]?.short === true &&
          (speaker.tokens[item.to]?.gap ?? 0) === 0) ||
        // "The spinner's a bit use", "the sight glass is half": a verdict was begun.
        ((speaker.tokens[clause.to]?.gap ?? 2) > 0 &&
          speaker.words(item.to, clause.to).some((w) => joint('copula').has(w)));
      // "Scissor link: none", "the actuator moves": something was said of it, good or bad.
      const more = speaker.words(item.to, clause.to).filter((w) => !isEmptyWord(w));
      const stated =
        (clause.cues.length === 0 &&
          more.length > 0 &&
          item.match === 1 &&
          (joint('moving').has(more[0] ?? '') ||
            speaker.words(clause.from, item.from).every(isEmptyWord))) ||
        // "No cap on the tank", "no yaw string", "a lack of grease": there is something in it.
        speaker.words(clause.from, clause.to).some((w) => joint('denies').has(w));
      observation =
        rest.length > 0 || cut || stated
          ? {
              ...observation,
              doubtful:
                rest.length > 0
                  ? `"${rest.join(' ')}" was not understood`
                  : cut
                    ? 'the end is missing'
                    : `"${speaker.span(clause.from, clause.to).words}": good or bad`,
            }
          : {
              ...observation,
              force: 'intention',
              why: [...observation.why, 'named without a verdict: no result (R1)'],
            };
    }
    observation = doubt(speaker, observation, clause, item);
    const pair = isPair(speaker, subject.near, words);
    // "No damage to the fins", behind the oil cooler: there is one fin, and others may be meant.
    if (
      item.plural &&
      entry.check.repeat === undefined &&
      !entry.names.some((name) => isPlural(phraseWords(name).at(-1) ?? '')) &&
      !pair &&
      observation.force === 'result' &&
      observation.doubtful === null
    )
      observation = {
        ...observation,
        doubtful: `"${speaker.span(item.from, item.to).words}": there is one ${entry.check.name}`,
      };
    if (pair) {
      for (const { entry: each } of subject.near) {
        const own = whichOf(each, words, scene).which;
        out.push({
          ...observation,
          id: each === entry ? observation.id : speaker.nextId(),
          about: { ...about, check: each.check.id, which: own },
          candidates: candidates.filter((c) => c.check === each.check.id),
          why: [...observation.why, `said of both: ${each.check.name}`],
        });
      }
      continue;
    }
    if (subject.near.length > 1) {
      const near = subject.candidates.flatMap((c) => {
        const rival = subject.near.find((n) => n.entry.check.id === c.check);
        if (rival === undefined) return [];
        return [{ ...c, instances: whichOf(rival.entry, words, scene).which.instances }];
      });
      if (observation.force === 'result') {
        out.push({
          ...speaker.common(clause, observation.why),
          // The same id: an answer amends what was said, whichever of the two it is called.
          id: observation.id,
          kind: 'two-candidates',
          candidates: near,
          said: observation,
        });
      }
      continue;
    }
    out.push(observation);
  }
  return out;
}

/** "Fuel caps both on", "flaps, both sides": a pair that are checks of their own at left and right, and both are meant. */
function isPair(speaker: Speaker, near: Subject['near'], words: WhichWords): boolean {
  const [one, two] = near;
  if (near.length !== 2 || one === undefined || two === undefined) return false;
  const both =
    (words.all && (words.count === null || words.count === 2)) ||
    words.count === 2 ||
    new Set(words.sides).size === 2;
  if (!both) return false;
  const opposite = [...two.entry.sides].filter((s) => !one.entry.sides.has(s));
  return siblingOf(one.entry, opposite, speaker.compiled.names) === two.entry;
}

/** "…, and the left one has": the clause that goes on says itself which one. */
function placesSaid(speaker: Speaker, clause: Clause, source: Clause): WhichWords | null {
  if (source === clause) return null;
  const own = whichWords(speaker.words(clause.from, clause.to), false);
  const told = own.sides.length + own.ordinals.length > 0 || own.other;
  return told || own.all || own.count !== null ? own : null;
}

/** Says nothing of the thing that it stands beside: articles, sides, counts. */
function isEmptyWord(word: string): boolean {
  return joint('empty').has(word) || SIDE_WORDS.has(stem(word)) || isNumberWord(word);
}

/** "There was a crack last month and it's longer now", "… there's none now": the condition said before, as it is today. */
export function carriedOver(
  speaker: Speaker,
  clause: Clause,
  source: Clause,
  entry: CheckEntry,
  said: Said,
): Said {
  const saidIn = (from: Clause): Said => saidOf(from, entry, speaker.tokens, speaker.raw, true);
  const echo = echoOf(speaker.words(clause.from, clause.to));
  if (echo !== null) return echoed(echo, saidIn(speaker.told ?? source)) ?? said;
  const earlier = saidIn(source);
  const before = earlier.conditions.filter((c) => c.present);
  if (before.length === 0) return said;
  const compared = clause.preds.flatMap((p) => p.senses).find((s) => s.kind === 'compared');
  const none =
    speaker.words(clause.from, clause.to).some((w) => /^(none|gone)$/.test(w)) ||
    (compared?.kind === 'compared' && compared.how === 'gone');
  const still = compared?.kind === 'compared' && compared.how !== 'gone';
  if (!none && !still) return said;
  return {
    ...said,
    conditions: before.map((c) => ({ ...c, present: !none })),
    why: [
      ...said.why,
      `"${before.map((c) => c.span.words).join(', ')}" was said before, and is ${none ? 'gone' : 'there'} now`,
    ],
  };
}

/** "(The warning lights come on,) the low fuel light doesn't". */
function echoBehind(
  speaker: Speaker,
  item: ItemPiece,
  clause: Clause,
): 'affirmed' | 'denied' | null {
  const words = speaker.words(item.to, clause.to).filter((w) => !joint('hesitation').has(w));
  return words.length > 0 && words.length <= 3 ? echoOf(['it', ...words]) : null;
}

/** "Collective too", "and the pedals as well": nothing else is said of it. */
function isLikewise(speaker: Speaker, item: ItemPiece, clause: Clause): boolean {
  const rest = speaker.words(item.to, clause.to).join(' ');
  return joint('as-well').has(rest);
}

/** "Not the left aileron, the right one": that name is not meant. */
export function isDenied(speaker: Speaker, item: ItemPiece, clause: Clause): boolean {
  let i = item.from;
  while (
    i > clause.from &&
    (/^(the|a|this|that)$/.test(speaker.tokens[i - 1]?.word ?? '') ||
      SIDE_WORDS.has(stem(speaker.tokens[i - 1]?.word ?? '')))
  )
    i -= 1;
  const before = speaker.tokens[i - 1]?.word ?? '';
  return (
    before === 'not' &&
    i - 1 >= clause.from &&
    !/^(is|are|do|does|can|could|will|has|have|did)$/.test(speaker.tokens[i - 2]?.word ?? '')
  );
}
