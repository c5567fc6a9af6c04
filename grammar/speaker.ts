import type { Heard } from '#shared/heard';
import type { Scene } from '#shared/scene';
import type { About, Candidate, Force, Observation, Span, Statement } from '#shared/statement';
import { circumstanceSaid, setAside } from './aside.ts';
import { blanketSaid } from './blanket.ts';
import type { Clause } from './clauses.ts';
import { amend, isCorrection, notThat } from './corrections.ts';
import { forceOf, type ForceRead } from './forces.ts';
import { joint } from './joints.ts';
import { aboutItems, borrow } from './named.ts';
import { caught } from './net.ts';
import { nameless } from './nameless.ts';
import { SIDE_WORDS, stem, stems, type CheckEntry } from './names.ts';
import type { ItemPiece } from './pieces.ts';
import { speaking } from './predicates.ts';
import type { Compiled } from './read.ts';
import type { Said } from './said.ts';
import { retraction } from './retractions.ts';
import { sameAgain } from './same.ts';
import { siblingOf } from './sibling.ts';
import { followScene } from './scene.ts';
import { spanOf, type Token } from './tokens.ts';
import { unplaced } from './unplaced.ts';
import { stepsIn } from './steps.ts';
import { quantitiesIn, valuesOf, type Quantity } from './values.ts';
import { whichWords, type WhichWords } from './which.ts';

export interface Spoken {
  readonly statements: Statement[];
  readonly force: Force | null;
  /** A squawk is being dictated. */
  readonly squawk: boolean;
}

/** Turns the clauses of one utterance into statements. */
export class Speaker {
  private count = 0;
  private readonly results = new Map<string, Observation>();
  /** The clause that last named something in this utterance. */
  topic: Clause | null = null;
  /** As `topic`, of any such thing: meant only where nothing else was named. */
  anySuch: Clause | null = null;
  /** The clause that last said how something is: what "and it is" repeats. */
  told: Clause | null = null;
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

  /** What was last said of the same thing on another side, in this utterance. */
  twinOf(entry: CheckEntry): Observation | null {
    const { names } = this.compiled;
    for (const [id, said] of this.results) {
      const other = names.byId.get(id);
      if (
        other !== undefined &&
        other !== entry &&
        siblingOf(other, [...entry.sides], names) === entry
      )
        return said;
    }
    return null;
  }

  speak(clause: Clause, scene: Scene, before: Force | null, squawking: boolean): Spoken {
    const spoken = this.read(clause, scene, before, squawking);
    for (const s of spoken.statements)
      if (s.kind === 'observation' && s.force === 'result' && s.about.kind === 'check')
        this.results.set(s.about.check, s);
    if (clause.preds.some(speaking)) this.told = clause;
    return spoken;
  }

  private read(clause: Clause, scene: Scene, before: Force | null, squawking: boolean): Spoken {
    const kinds = new Set(clause.preds.flatMap((p) => p.senses.map((s) => s.kind)));
    const read = forceOf(clause, this.tokens, before);
    const squawk = squawking || kinds.has('squawk');
    const done = (...statements: (Statement | null)[]): Spoken => ({
      statements: statements.filter((s) => s !== null),
      force: read.force,
      squawk,
    });
    const back = retraction(this, clause, scene);
    if (back !== null) {
      if (back.rest === null) return done(back.statement);
      // "Strike that, it's filthy.": what stands now is said behind it.
      const after = followScene(scene, back.statement, this.compiled.places);
      const more = this.read(back.rest, after, before, squawking);
      return { ...more, statements: [back.statement, ...more.statements] };
    }
    if (read.force === 'result' && (kinds.has('setaside') || kinds.has('notfitted'))) {
      const aside = setAside(this, clause, scene);
      if (aside !== null) return done(aside);
    }
    const circumstance = circumstanceSaid(this, clause, read);
    if (circumstance !== null) return done(circumstance);
    if (isCorrection(clause) || notThat(this, clause, scene) !== null) {
      const amended = amend(this, clause, scene, read);
      if (amended !== null) return done(amended);
    }
    if (this.isInstance(clause, scene))
      return this.read({ ...clause, items: [] }, scene, before, squawking);
    const parts = clause.items.filter((item) => this.isOfIt(item));
    if (parts.length > 0 && parts.length === clause.items.length)
      return this.read(
        { ...clause, items: [], places: [...clause.places, ...parts] },
        scene,
        before,
        squawking,
      );
    if (clause.items.length > 0) {
      if (isAnySuch(clause, this.tokens, read.force)) this.anySuch = clause;
      else this.topic = clause;
      return done(...aboutItems(this, clause, scene, read, squawk));
    }
    if (this.isElsewhere(clause))
      return done(
        unplaced(this, clause, scene, read, squawk, this.span(clause.from, clause.to).words),
      );
    const borrowed = borrow(this, clause, scene);
    if (borrowed !== null && !kinds.has('everything') && clause.stations.length === 0) {
      const whole: Clause = { ...clause, items: borrowed.items };
      return done(...aboutItems(this, whole, scene, read, squawk, borrowed));
    }
    const measured = this.measuredAt(clause, scene, read, squawk);
    if (measured !== null) return done(...measured);
    if (clause.stations.length > 0 || kinds.has('everything')) {
      const blanket = blanketSaid(this, clause, scene, read, squawk);
      if (blanket !== null) return done(blanket);
    }
    if (kinds.has('same') || kinds.has('other')) {
      const same = sameAgain(this, clause, scene, read, null);
      if (same !== null) return done(same);
    }
    return done(
      ...caught(
        this,
        clause,
        scene,
        read,
        nameless({ speaker: this, clause, scene, read, squawk }),
      ),
    );
  }

  /** "Left main, twenty nine psi": a value at a station, of the one thing there that is measured so. */
  private measuredAt(
    clause: Clause,
    scene: Scene,
    read: ForceRead,
    squawk: boolean,
  ): Statement[] | null {
    const station = clause.stations[0]?.station;
    if (station === undefined || clause.preds.some(speaking) || read.force !== 'result')
      return null;
    const units = quantitiesIn(this.tokens, clause.from, clause.to).some((q) => q.units.length > 0);
    if (!units) return null;
    return nameless({
      speaker: this,
      clause,
      scene: { ...scene, station, check: null },
      read,
      squawk,
    });
  }

  /** "(The main cap is tight,) the aux one is weeping": a place of what was just named is called so. */
  private isInstance(clause: Clause, scene: Scene): boolean {
    const [item, ...more] = clause.items;
    if (item === undefined || more.length > 0 || scene.check === null) return false;
    if (item.to !== item.from + 1 || !/^ones?$/.test(this.tokens[item.to]?.word ?? ''))
      return false;
    const word = stem(this.tokens[item.from]?.word ?? '');
    return this.compiled.places.instances(scene.check).some((i) => stems(i).includes(word));
  }

  /** "The leading edge of it": a place on what was just named, whatever else is called so. */
  private isOfIt(item: ItemPiece): boolean {
    return /^(of|on) (it|them|that one|this one)\b/.test(
      this.words(item.to, item.to + 3).join(' '),
    );
  }

  /** "A crack behind the left gear leg": on what, is not said; only a contrast goes on about the thing before. */
  private isElsewhere(clause: Clause): boolean {
    if (clause.items.length > 0 || clause.places.length === 0) return false;
    if (clause.places.every((p) => this.isOfIt(p))) return false;
    const before = this.tokens[clause.from - 1]?.word ?? '';
    return !(this.topic !== null && (clause.contrast || joint('exception').has(before)));
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

  chatter(
    clause: { from: number; to: number },
    chatter = true,
    why = 'nothing in it is about a check',
  ): Statement {
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
      // In talk nothing is counted, and nothing has to be asked.
      doubtful: (read.force === 'result' ? said.doubt : null) ?? read.doubt,
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

  /** As `words`, without the steps of a gauge: the "second knuckle" is no second belt. */
  placeWords(from: number, to: number): string[] {
    this.steps ??= stepsIn(this.compiled.catalogue, this.tokens);
    const { steps } = this;
    return this.tokens
      .slice(from, to)
      .flatMap((t, k) =>
        steps.some((s) => s.from <= from + k && from + k < s.to) ? [] : [t.word],
      );
  }
  private steps: readonly { from: number; to: number }[] | null = null;

  /** Side, count and order words beside a name. */
  whichWordsAt(item: ItemPiece, clause: Clause): WhichWords {
    const index = clause.items.indexOf(item);
    const floor = Math.max(
      clause.from,
      clause.items[index - 1]?.to ?? clause.from,
      ...clause.preds.filter((p) => p.to <= item.from).map((p) => p.to),
    );
    const before = this.placeWords(Math.max(floor, item.from - 6), item.from);
    const own = this.words(item.from, item.to);
    const inside = own.filter((w) => SIDE_WORDS.has(stem(w)));
    let end = item.to;
    const stop = Math.min(
      clause.to,
      clause.items[index + 1]?.from ?? clause.to,
      item.to + 6,
      ...clause.preds.filter((p) => p.from >= item.to).map((p) => p.from),
    );
    while (end < stop) end += 1;
    const after = this.placeWords(item.to, end);
    const pred = clause.preds.find((p) => p.from >= item.to);
    const lead = pred === undefined ? '' : (this.tokens[pred.from]?.word ?? '');
    const tail =
      lead === 'all' || lead === 'both' || lead === 'each' ? [...after, lead] : [...after];
    // "skids good both", "caps secure, both sides": behind the verdict, at the very end.
    const last = clause.preds.at(-1);
    if (pred !== undefined && last !== undefined && index === clause.items.length - 1) {
      let from = clause.to;
      while (from > last.to && joint('both-sides').has(this.tokens[from - 1]?.word ?? ''))
        from -= 1;
      tail.push(...this.words(from, clause.to));
    }
    const words = whichWords([...before, ...inside], item.plural, tail);
    return { ...words, near: [...words.near, ...own.map(stem)] };
  }
}

/** "When a belt goes slack it saws into the guard": of any belt, so that "it" behind it is not this one. */
function isAnySuch(clause: Clause, tokens: readonly Token[], force: Force): boolean {
  if (force !== 'hypothesis' && force !== 'teaching') return false;
  let i = (clause.items[0]?.from ?? 0) - 1;
  while (i >= clause.from && SIDE_WORDS.has(stem(tokens[i]?.word ?? ''))) i -= 1;
  return i >= clause.from && /^(a|an|any|some)$/.test(tokens[i]?.word ?? '');
}
