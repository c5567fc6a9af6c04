import type { FiledSquawk, Outcome, SquawkBook, SquawkPaper } from '#screens';
import type { Store } from '#store';
import type { Catalogue } from '#shared/catalogue';
import type { Happening } from '#shared/event';
import type { Heard } from '#shared/heard';
import type { World } from '#shared/log';
import type { SquawkStep } from '#shared/squawk';
import type { Statement } from '#shared/statement';
import { bad } from './outcome.ts';
import type { Readers } from './readers.ts';
import type { CatalogueShelf } from './shelf.ts';

export interface DeskParts {
  readonly store: Store;
  readonly world: World;
  readonly shelf: CatalogueShelf;
  readonly readers: Readers;
}

/** The squawks of every aircraft, for the screens and for the walk that carries them. */
export interface SquawkDesk {
  carried(aircraft: string): Promise<{ squawk: string; check: string | null; text: string }[]>;
  hoursOf(aircraft: string): Promise<number | null>;
  openTitles(aircraft: string): Promise<string[]>;
  also(
    statement: Statement,
    heard: Heard,
    catalogue: Catalogue,
    aircraft: string,
  ): readonly Happening[];
  book(aircraft: string): Promise<Outcome<SquawkBook>>;
  file(aircraft: string, words: string): Promise<Outcome<FiledSquawk>>;
  step(squawk: string, step: SquawkStep): Promise<Outcome>;
  paper(aircraft: string, kind: SquawkPaper): Promise<Outcome<{ name: string; blob: Blob }>>;
  answers(file: File): Promise<Outcome<{ text: string }>>;
}

const NOT_YET = 'Squawks cannot be kept yet in this version.';

export function squawkDesk(_parts: DeskParts): SquawkDesk {
  const notYet = <T>(): Promise<Outcome<T>> => Promise.resolve(bad(NOT_YET));
  return {
    carried: () => Promise.resolve([]),
    hoursOf: () => Promise.resolve(null),
    openTitles: () => Promise.resolve([]),
    also: () => [],
    book: notYet,
    file: notYet,
    step: notYet,
    paper: notYet,
    answers: notYet,
  };
}
