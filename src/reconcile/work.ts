import type { Reason, Rule } from '#shared/coverage';
import type { Entry, Mark } from './ledger.ts';
import { spotsAround } from './around.ts';
import { get, put } from './map.ts';
import type { State } from './state.ts';

/**
 * A state while events are being taken in. It is nobody else's yet, so what it
 * has already copied it may write to; what it shares it copies first.
 */
export class Work {
  state: { -readonly [K in keyof State]: State[K] };
  /** Checks whose standing has to be worked out again. */
  readonly touched = new Set<number>();
  /** Marks what the maps may write to; no more than a mark, since they keep it. */
  readonly owner: object = {};
  private readonly mine = new Set<object>();

  constructor(state: State) {
    this.state = { ...state };
  }

  /** The same array where it is ours already, otherwise a copy that is. */
  own<T>(list: readonly T[]): T[] {
    if (this.mine.has(list)) return list as T[];
    const copy = list.slice();
    this.mine.add(copy);
    return copy;
  }

  enter(entry: Entry): void {
    this.state.entries = put(this.state.entries, entry.id, entry, this.owner);
    for (const spot of entry.spots) this.enterAt(spot, entry);
  }

  enterAt(spot: number, entry: Entry): void {
    const ledgers = this.own(this.state.ledgers);
    this.state.ledgers = ledgers;
    const ledger = this.own(ledgers[spot] ?? []);
    ledger.push(entry);
    ledgers[spot] = ledger;
    this.touched.add(spot);
  }

  mark(id: string, mark: Mark): void {
    const marks = get(this.state.marks, id) ?? [];
    this.state.marks = put(this.state.marks, id, [...marks, mark], this.owner);
    if (mark.kind === 'reviewed') this.state.anyReview = true;
    this.touchAround(id);
  }

  /** Every check that a statement, what it amends and what amends it are about. */
  touchAround(id: string): void {
    for (const spot of spotsAround(this.state, id)) this.touched.add(spot);
  }

  odd(rule: Rule, text: string, events: readonly string[], words: string | null = null): void {
    const reason: Reason = { rule, text, events: [...events], words };
    const oddities = this.own(this.state.oddities);
    oddities.push(reason);
    this.state.oddities = oddities;
  }
}
