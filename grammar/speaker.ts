import type { Heard } from '#shared/heard';
import type { Scene } from '#shared/scene';
import type { About, Candidate, Force, Observation, Span, Statement } from '#shared/statement';
import type { Clause } from './clauses.ts';
import { amend, isCorrection } from './corrections.ts';
import { forceOf, type ForceRead } from './forces.ts';
import { leftovers } from './leftovers.ts';
import { nameless, speaking } from './nameless.ts';
import { lexicon } from './lexicon.ts';
import { SIDE_WORDS, stem, stems, type CheckEntry } from './names.ts';
import type { ItemPiece } from './pieces.ts';
import type { Compiled } from './read.ts';
import { deniedIn, saidOf, type Said } from './said.ts';
import { subjectOf } from './subject.ts';
import { phraseWords, spanOf, type Token } from './tokens.ts';
import { quantitiesIn, valuesOf, type Quantity } from './values.ts';
import { whichOf, whichWords, type WhichWords } from './which.ts';

export interface Spoken {
  readonly statements: Statement[];
  readonly force: Force | null;
  /** A squawk is being dictated. */
  readonly squawk: boolean;
}

/** A name heard less surely than this is asked about before it counts: a wrong check spoken for can kill. */
export const SURE_MATCH = 0.86;

const UNIT_WORD = /^(psi|quarts?|gallons?|volts?|litres?|percent|celsius)$/;

let parts: Set<string> | null = null;
function partWords(): Set<string> {
  parts ??= new Set(lexicon().places.parts.flatMap((p) => phraseWords(p)));
  return parts;
}

/** Turns the clauses of one utterance into statements. */
export class Speaker {
  private count = 0;
  /** The clause that last named something in this utterance. */
  private topic: Clause | null = null;
  readonly heard: Heard;
  readonly tokens: readonly Token[];
  readonly raw: readonly string[];
  readonly compiled: Compiled;

  constructor(heard: Heard, tokens: readonly Token[], raw: readonly string[], compiled: Compiled) {
    this.heard = heard;
    this.tokens = tokens;
    this.raw = raw;
    this.compiled = compiled;
  }

  nextId(): string {
    this.count += 1;
    return `${this.heard.id}.${String(this.count)}`;
  }
  span(from: number, to: number): Span {
    return spanOf(this.tokens, this.raw, from, to);
  }
  words(from: number, to: number): string[] {
    return this.tokens.slice(from, to).map((t) => t.word);
  }

  speak(clause: Clause, scene: Scene, before: Force | null, squawking: boolean): Spoken {
    const kinds = new Set(clause.preds.flatMap((p) => p.senses.map((s) => s.kind)));
    const read = forceOf(clause, this.tokens, before);
    const squawk = squawking || kinds.has('squawk');
    const done = (...statements: (Statement | null)[]): Spoken => ({
      statements: statements.filter((s) => s !== null),
      force: read.force,
      squawk,
    });
    if (kinds.has('retract') && clause.items.length === 0) {
      if (scene.lastId === null) return done(this.chatter(clause));
      return done({
        ...this.common(clause, ['taken back: it stays in the log and no longer counts (R6)']),
        kind: 'retraction',
        of: scene.lastId,
      });
    }
    if (read.force === 'result' && (kinds.has('setaside') || kinds.has('notfitted'))) {
      const aside = this.setAside(clause, scene);
      if (aside !== null) return done(aside);
    }
    const circumstance = this.circumstance(clause, read);
    if (circumstance !== null) return done(circumstance);
    if (isCorrection(clause)) {
      const amended = amend(this, clause, scene, read);
      if (amended !== null) return done(amended);
    }
    if (clause.items.length > 0) {
      this.topic = clause;
      return done(...this.aboutItems(clause, scene, read, squawk));
    }
    const borrowed = this.borrow(clause, scene);
    if (borrowed !== null && !kinds.has('everything') && clause.stations.length === 0) {
      const whole: Clause = { ...clause, items: borrowed.items };
      return done(...this.aboutItems(whole, scene, read, squawk, borrowed));
    }
    if (clause.stations.length > 0 || kinds.has('everything')) {
      const blanket = this.blanket(clause, scene, read, squawk);
      if (blanket !== null) return done(blanket);
    }
    if (kinds.has('same') || kinds.has('other')) {
      const same = this.same(clause, scene, read, null);
      if (same !== null) return done(same);
    }
    return done(...nameless({ speaker: this, clause, scene, read, squawk }));
  }

  common(
    clause: { from: number; to: number },
    why: string[],
  ): Pick<Observation, 'v' | 'id' | 'heard' | 'span' | 'why'> {
    return {
      v: 1,
      id: this.nextId(),
      heard: this.heard.id,
      span: this.span(clause.from, clause.to),
      why,
    };
  }

  chatter(clause: Clause, chatter = true, why = 'nothing in it is about a check'): Statement {
    return { ...this.common(clause, [why]), kind: 'not-understood', chatter };
  }

  observation(
    clause: Clause,
    read: ForceRead,
    about: About,
    candidates: readonly Candidate[],
    said: Said,
    entry: CheckEntry | null,
    squawk: boolean,
    scene: Scene,
    why: string[],
  ): Observation {
    const values =
      entry === null
        ? []
        : valuesOf(
            entry.check,
            this.compiled.catalogue,
            this.tokens,
            this.raw,
            clause.from,
            clause.to,
            (q) => this.isFree(clause, q, said),
          );
    const compared = clause.preds.flatMap((p) => p.senses).find((s) => s.kind === 'compared');
    const watched = entry !== null && scene.squawked.includes(entry.check.id);
    return {
      ...this.common(clause, [
        ...why,
        read.why,
        ...said.why,
        ...values.map(
          (v) =>
            `"${v.span.words}" is a value${v.measure === null ? '' : ` of ${v.measure}`}${v.trouble === null ? '' : ` (${v.trouble}, R8)`}`,
        ),
      ]),
      kind: 'observation',
      force: read.force,
      about,
      candidates: [...candidates],
      verdict: said.verdict,
      conditions: said.conditions,
      values,
      acts: said.acts,
      severity: said.severity,
      amends: null,
      answers: null,
      compared: watched && compared?.kind === 'compared' ? compared.how : null,
      squawk,
      doubtful: said.doubt ?? read.doubt,
    };
  }

  /** A number is a value unless it counts things or belongs to a name or a place. */
  private isFree(clause: Clause, quantity: Quantity, said: Said): boolean {
    const inside = (p: { from: number; to: number }): boolean =>
      quantity.from < p.to && quantity.to > p.from;
    if (clause.items.some(inside) || clause.places.some(inside)) return false;
    if (quantity.units.length > 0) return true;
    if (said.conditions.some((c) => c.extent !== null && c.extent.count === quantity.number.value))
      return false;
    const item = clause.items[0];
    if (
      item !== undefined &&
      quantity.to <= item.from &&
      Number.isInteger(quantity.number.value) &&
      quantity.number.value <= 12 &&
      quantity.from >= item.from - 4
    )
      return false;
    const word = this.tokens[quantity.from]?.word ?? '';
    const before = this.tokens[quantity.from - 1]?.word ?? '';
    if (before === 'number' || (word === 'one' && quantity.to === quantity.from + 1)) return false;
    return true;
  }

  /** Side, count and order words beside a name. */
  whichWordsAt(item: ItemPiece, clause: Clause): WhichWords {
    const index = clause.items.indexOf(item);
    const floor = Math.max(
      clause.from,
      clause.items[index - 1]?.to ?? clause.from,
      ...clause.preds.filter((p) => p.to <= item.from).map((p) => p.to),
    );
    const before = this.words(Math.max(floor, item.from - 6), item.from);
    const inside = this.words(item.from, item.to).filter((w) => SIDE_WORDS.has(stem(w)));
    let end = item.to;
    const stop = Math.min(
      clause.to,
      clause.items[index + 1]?.from ?? clause.to,
      item.to + 6,
      ...clause.preds.filter((p) => p.from >= item.to).map((p) => p.from),
    );
    while (end < stop) end += 1;
    const after = this.words(item.to, end);
    const pred = clause.preds.find((p) => p.from >= item.to);
    const lead = pred === undefined ? '' : (this.tokens[pred.from]?.word ?? '');
    const tail =
      lead === 'all' || lead === 'both' || lead === 'each' ? [...after, lead] : [...after];
    // "skids good both": behind the verdict, at the very end.
    const end2 = this.tokens[clause.to - 1]?.word ?? '';
    if (pred !== undefined && index === clause.items.length - 1 && /^(both|all)$/.test(end2))
      tail.push(end2);
    return whichWords([...before, ...inside], item.plural, tail);
  }

  /**
   * The clause before that named something which the scene does not hold, because it
   * was talk or a tie: "last week this line was weeping; today it's dry".
   */
  private borrow(clause: Clause, scene: Scene): Clause | null {
    const { topic } = this;
    const first = clause.preds.find((p) => speaking(p));
    const pointed = this.words(clause.from, clause.from + 3).some((w) =>
      /^(this|that|these|those|it|there|they)$/.test(w),
    );
    if (topic === null) return null;
    const measured = quantitiesIn(this.tokens, clause.from, clause.to).length > 0;
    if (first === undefined && !measured && !pointed) return null;
    const item = topic.items[0];
    if (item === undefined) return null;
    if (leftovers({ ...clause, to: first?.from ?? clause.to }, this.tokens, clause.from).length > 0)
      return null;
    const subject = subjectOf(item, this.compiled.names, this.whichWordsAt(item, topic), scene);
    if (subject === null) return null;
    return subject.near.length === 1 && subject.near[0]?.entry.check.id === scene.check
      ? null
      : topic;
  }

  aboutItems(
    clause: Clause,
    scene: Scene,
    read: ForceRead,
    squawk: boolean,
    source: Clause = clause,
  ): Statement[] {
    const out: Statement[] = [];
    const denied = clause.items.filter((it) => this.isDenied(it, clause));
    if (denied.length > 0 && denied.length === clause.items.length) {
      // "Not the left aileron, …": what is meant was not understood.
      const part = this.span(clause.from, clause.to).words;
      return [this.unplaced(clause, scene, read, squawk, part)];
    }
    for (const item of clause.items) {
      if (denied.includes(item) && denied.length < clause.items.length) continue;
      const words = this.whichWordsAt(item, source);
      const subject = subjectOf(item, this.compiled.names, words, scene);
      if (subject === null) {
        out.push(this.unplaced(clause, scene, read, squawk, this.span(item.from, item.to).words));
        continue;
      }
      const entry = subject.near[0]?.entry;
      if (entry === undefined) continue;
      const kinds = new Set(clause.preds.flatMap((p) => p.senses.map((s) => s.kind)));
      let said = saidOf(clause, entry, this.tokens, this.raw, true);
      if (source !== clause && said.verdict === null && said.conditions.length === 0)
        said = this.carriedOver(clause, source, entry, said);
      if (kinds.has('same') && said.verdict === null && said.conditions.length === 0) {
        const same = this.same(clause, scene, read, { entry, words });
        if (same !== null) {
          out.push(same);
          continue;
        }
      }
      const { which, why } = whichOf(
        entry,
        subject.sides.length > 0
          ? { ...words, sides: [...new Set([...words.sides, ...subject.sides])] }
          : words,
        scene,
      );
      const about: About = {
        kind: 'check',
        check: entry.check.id,
        which,
        span: this.span(item.from, item.to),
      };
      const candidates = subject.candidates.map((c) =>
        c.check === entry.check.id ? { ...c, instances: which.instances } : c,
      );
      let observation = this.observation(
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
      if (empty && read.force === 'result' && said.doubt === null) {
        const rest = leftovers(
          clause,
          this.tokens,
          item.to,
          observation.values.map((v) => v.span),
        );
        const tail = this.tokens[clause.to - 1]?.word ?? '';
        const cut =
          /^(is|are|has|have|got|looks|look|not|no|a|the|feels|seems)$/.test(tail) ||
          this.tokens[clause.to - 1]?.short === true;
        observation =
          rest.length > 0 || cut
            ? {
                ...observation,
                doubtful:
                  rest.length > 0 ? `"${rest.join(' ')}" was not understood` : 'the end is missing',
              }
            : {
                ...observation,
                force: 'intention',
                why: [...observation.why, 'named without a verdict: no result (R1)'],
              };
      }
      observation = this.doubt(observation, clause, item);
      if (subject.near.length > 1) {
        const near = subject.candidates.flatMap((c) => {
          const rival = subject.near.find((n) => n.entry.check.id === c.check);
          if (rival === undefined) return [];
          return [{ ...c, instances: whichOf(rival.entry, words, scene).which.instances }];
        });
        if (observation.force === 'result') {
          out.push({
            ...this.common(clause, observation.why),
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

  /** "There was a crack last month and it's longer now", "… there's none now": the condition said before, as it is today. */
  private carriedOver(clause: Clause, source: Clause, entry: CheckEntry, said: Said): Said {
    const before = saidOf(source, entry, this.tokens, this.raw, true).conditions.filter(
      (c) => c.present,
    );
    if (before.length === 0) return said;
    const compared = clause.preds.flatMap((p) => p.senses).find((s) => s.kind === 'compared');
    const none =
      this.words(clause.from, clause.to).some((w) => /^(none|gone)$/.test(w)) ||
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

  /** "Not the left aileron, the right one": that name is not meant. */
  private isDenied(item: ItemPiece, clause: Clause): boolean {
    let i = item.from;
    while (
      i > clause.from &&
      (/^(the|a|this|that)$/.test(this.tokens[i - 1]?.word ?? '') ||
        SIDE_WORDS.has(stem(this.tokens[i - 1]?.word ?? '')))
    )
      i -= 1;
    const before = this.tokens[i - 1]?.word ?? '';
    return (
      before === 'not' &&
      i - 1 >= clause.from &&
      !/^(is|are|do|does|can|could|will|has|have|did)$/.test(this.tokens[i - 2]?.word ?? '')
    );
  }

  /** Words beside a good verdict that were not understood, or a name not surely heard, are asked about (R5). */
  doubt(observation: Observation, clause: Clause, item: ItemPiece | null): Observation {
    if (observation.force !== 'result' || observation.doubtful !== null) return observation;
    if (item !== null && item.match < SURE_MATCH) {
      return {
        ...observation,
        doubtful: `took "${this.span(item.from, item.to).words}" for "${item.entry.text}"`,
      };
    }
    const unsure = clause.preds.find((p) => p.match < (item === null ? 1 : SURE_MATCH));
    if (unsure !== undefined)
      return {
        ...observation,
        doubtful: `not sure of "${this.span(unsure.from, unsure.to).words}"`,
      };
    const spans = observation.values.map((v) => v.span);
    const found = observation.conditions.some((c) => c.present);
    let rest: string[];
    if (found) {
      // A finding stands with its details; words before its end that were not understood may put it on the wrong thing, or into talk.
      const last = clause.preds.filter((p) => speaking(p)).at(-1);
      const start = clause.from;
      const end = Math.max(last?.to ?? clause.from, item?.to ?? clause.from);
      rest = leftovers({ ...clause, to: end }, this.tokens, start, spans);
    } else rest = leftovers(clause, this.tokens, clause.from, spans);
    const own = this.aspectWords(observation);
    rest = rest.filter((word) => !own.has(stem(word)));
    if (rest.length > 0)
      return { ...observation, doubtful: `"${rest.join(' ')}" was not understood` };
    if (this.strayUnit(clause, spans))
      return { ...observation, doubtful: 'a unit without its number' };
    return observation;
  }

  /** Words of the author's own aspects of the check: always understood. */
  private aspectWords(observation: Observation): ReadonlySet<string> {
    if (observation.about.kind !== 'check') return new Set();
    const entry = this.compiled.names.byId.get(observation.about.check);
    return new Set(
      (entry?.check.aspects ?? [])
        .flatMap((a) => [a.name, ...a.say])
        .flatMap((name) => phraseWords(name).map(stem)),
    );
  }

  /** "Oil quarts, that's fine": the number was lost, and it might have been out of limits (R8). */
  private strayUnit(clause: Clause, values: readonly Span[]): boolean {
    for (let i = clause.from; i < clause.to; i += 1) {
      if (!UNIT_WORD.test(this.tokens[i]?.word ?? '')) continue;
      const at = this.tokens[i]?.at ?? -1;
      if (
        !values.some((v) => v.from <= at && at < v.to) &&
        clause.items.every((it) => i < it.from || i >= it.to)
      ) {
        const number = quantitiesIn(this.tokens, clause.from, clause.to).some(
          (q) => q.from <= i && i < q.to,
        );
        if (!number) return true;
      }
    }
    return false;
  }

  private setAside(clause: Clause, scene: Scene): Statement | null {
    const item = clause.items[0];
    const after = clause.preds.find((p) => p.senses.some((s) => s.kind === 'notfitted'));
    if (
      after !== undefined &&
      /^(properly|correctly|right|well|tight|tightly|flush)$/.test(
        this.tokens[after.to]?.word ?? '',
      )
    )
      return null;
    const reason = this.span(clause.from, clause.to).words;
    if (item === undefined) {
      if (scene.check === null || leftovers(clause, this.tokens, clause.from).length > 0)
        return null;
      return {
        ...this.common(clause, ['set aside: the one just named']),
        kind: 'set-aside',
        check: scene.check,
        instances: scene.instances,
        reason,
      };
    }
    const words = this.whichWordsAt(item, clause);
    const subject = subjectOf(item, this.compiled.names, words, scene);
    const entry = subject?.near[0]?.entry;
    if (subject === null || entry === undefined || subject.near.length > 1) return null;
    const { which } = whichOf(entry, words, scene);
    const all = this.compiled.places.instances(entry.check.id);
    return {
      ...this.common(clause, [`set aside: ${subject.why}`]),
      kind: 'set-aside',
      check: entry.check.id,
      instances: which.how === 'named' ? which.instances : [...all],
      reason,
    };
  }

  private circumstance(clause: Clause, read: ForceRead): Statement | null {
    if (
      clause.items.length > 0 ||
      clause.stations.length > 0 ||
      read.force === 'question' ||
      read.force === 'hypothesis'
    )
      return null;
    const piece = clause.preds.find((p) => p.senses.some((s) => s.kind === 'circumstance'));
    const sense = piece?.senses.find((s) => s.kind === 'circumstance');
    if (piece === undefined || sense?.kind !== 'circumstance') return null;
    if (
      clause.preds.some(
        (p) => p !== piece && p.senses.some((s) => s.kind === 'condition' || s.kind === 'verdict'),
      )
    )
      return null;
    if (leftovers(clause, this.tokens, clause.from).length > 0) return null;
    const denied = deniedIn(clause, piece, this.tokens);
    return {
      ...this.common(clause, [
        `"${this.span(piece.from, piece.to).words}" says what is special today`,
      ]),
      kind: 'circumstance',
      circumstance: sense.circumstance,
      holds: denied.count === 0,
    };
  }

  /** A verdict over a station, an arrival at it, or a finding somewhere on it. */
  private blanket(
    clause: Clause,
    scene: Scene,
    read: ForceRead,
    squawk: boolean,
  ): Statement | null {
    const named = clause.stations[0]?.station ?? null;
    const everything = clause.preds.some((p) => p.senses.some((s) => s.kind === 'everything'));
    const station = named ?? (everything ? scene.station : null);
    if (station === null) return null;
    const said = saidOf(clause, null, this.tokens, this.raw, true);
    const found = said.conditions.some((c) => c.present);
    const place = clause.stations[0];
    const span =
      place === undefined ? this.span(clause.from, clause.to) : this.span(place.from, place.to);
    if (said.verdict === null && said.conditions.length === 0) {
      if (named === null) return null;
      if (read.force === 'result' || read.force === 'intention') {
        return {
          ...this.common(clause, [`"${span.words}" names the station: no result (R1)`]),
          kind: 'arrival',
          station: named,
        };
      }
      return null;
    }
    if (
      named !== null &&
      !everything &&
      (said.conditions.length > 0 || said.verdict?.actOnly === true)
    ) {
      const only = this.checkLike(named);
      if (only !== null) {
        const whole = saidOf(clause, only, this.tokens, this.raw, true);
        const words = whichWords(this.words(clause.from, clause.to), false);
        const { which } = whichOf(only, words, scene);
        return this.doubt(
          this.observation(
            clause,
            read,
            { kind: 'check', check: only.check.id, which, span },
            [],
            whole,
            only,
            squawk,
            scene,
            [
              `"${span.words}" is the station, and ${only.check.id} the only check that bears its name`,
            ],
          ),
          clause,
          null,
        );
      }
    }
    if (found) {
      const part = this.span(clause.from, clause.to).words;
      const about: About = { kind: 'unplaced', part: span.words === '' ? part : span.words, span };
      return this.observation(clause, read, about, [], said, null, squawk, scene, [
        `something at ${station}, but which check is not clear (R4)`,
      ]);
    }
    const about: About = { kind: 'station', station, except: [], span };
    const observation = this.observation(clause, read, about, [], said, null, squawk, scene, [
      `a blanket over ${station} (R7)`,
    ]);
    return this.doubt(observation, clause, null);
  }

  /** The one check at a station that is called after it: "the boom is wrinkled" is the boom's skin. */
  private checkLike(station: string): CheckEntry | null {
    const own = this.compiled.names.stations.get(station);
    if (own === undefined) return null;
    const said = new Set([own.name, ...own.say].flatMap(stems));
    const fits = this.compiled.names.checks.filter(
      (e) =>
        e.station.id === station &&
        e.names.some((n) => said.has(stems(n)[0] ?? '') && stems(n).length === 2),
    );
    return fits.length === 1 ? (fits[0] ?? null) : null;
  }

  /** "Same here", "the other one too": the last verdict again, elsewhere. */
  private same(
    clause: Clause,
    scene: Scene,
    read: ForceRead,
    named: { entry: CheckEntry; words: WhichWords } | null,
  ): Statement | null {
    const { last } = scene;
    if (last === null || last.about.kind !== 'check') return null;
    const own = saidOf(clause, null, this.tokens, this.raw, true);
    const entry = named?.entry ?? this.compiled.names.byId.get(last.about.check);
    if (entry === undefined) return null;
    const words = named?.words ?? whichWords(this.words(clause.from, clause.to), false);
    const silent =
      words.sides.length === 0 && words.ordinals.length === 0 && !words.all && !words.other;
    const { which, why } = whichOf(
      entry,
      named === null && silent ? { ...words, other: true } : words,
      scene,
    );
    const about: About = {
      kind: 'check',
      check: entry.check.id,
      which,
      span: named === null ? null : this.span(clause.from, clause.to),
    };
    const fresh = own.verdict !== null || own.conditions.length > 0;
    const said = fresh
      ? saidOf(clause, entry, this.tokens, this.raw, true)
      : { ...own, verdict: last.verdict, conditions: last.conditions, acts: last.acts };
    if (said.verdict === null && said.conditions.length === 0) return null;
    const made = this.observation(clause, read, about, [], said, entry, false, scene, [
      fresh ? 'refers to what was just named' : `the same as "${last.span.words}"`,
      `places: ${why}`,
    ]);
    return this.doubt(
      last.doubtful !== null && !fresh ? { ...made, doubtful: last.doubtful } : made,
      clause,
      null,
    );
  }

  /** A part said before a predicate ("the lower bolt is loose"): its words, or nothing. */
  partBefore(clause: Clause, at: number): string {
    let to = at;
    while (
      to > clause.from &&
      /^(is|are|has|have|looks?|seems?|was|were|a|bit|very|slightly|badly)$/.test(
        this.tokens[to - 1]?.word ?? '',
      )
    )
      to -= 1;
    let from = to;
    while (
      from > clause.from &&
      !/^(but|and|the|a|an|there|is|so|with|because|that|it|one|of|i|we|see|can|no|not|got|have|has|found|on|in)$/.test(
        this.tokens[from - 1]?.word ?? '',
      )
    )
      from -= 1;
    const words = this.words(from, to);
    return words.length > 0 && words.some((w) => partWords().has(w))
      ? this.span(from, to).words
      : '';
  }

  unplaced(
    clause: Clause,
    scene: Scene,
    read: ForceRead,
    squawk: boolean,
    part: string,
  ): Statement {
    const said = saidOf(clause, null, this.tokens, this.raw, true);
    if (said.conditions.every((c) => !c.present))
      return this.chatter(
        clause,
        read.force !== 'result',
        'sounds like a result, but of what was not understood (R5)',
      );
    const about: About = {
      kind: 'unplaced',
      part: part === '' ? this.span(clause.from, clause.to).words : part,
      span: this.span(clause.from, clause.to),
    };
    return this.observation(clause, read, about, [], said, null, squawk, scene, [
      'a finding whose check is not clear: kept, to be placed (R4)',
    ]);
  }
}
