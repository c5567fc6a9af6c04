import type { LearnedBook, LearnedLine, LearnedOffer, LearnedTaken, Outcome } from '#screens';
import type { Store } from '#store';
import type { Catalogue } from '#shared/catalogue';
import type { Draft, Happening } from '#shared/event';
import type { World } from '#shared/log';
import { placeOf } from '#shared/names';
import {
  believed,
  goneIn,
  isBad,
  phrasebookOf,
  phrasebooksOf,
  SURELY,
  tellingsOf,
  toldIn,
  type Learned,
  type Line,
} from '#shared/phrasebook';
import {
  isPhrasebook,
  mergedWith,
  phrasebookFile,
  readPhrasebook,
  type PhrasebookFile,
} from '#shared/phrasebook-file';
import { SEVERITY_WORDS } from '#shared/severity';
import { bad, good } from './outcome.ts';
import { notTooLarge } from './text-file.ts';

export interface PhrasebookParts {
  readonly store: Pick<Store, 'append' | 'device' | 'learnedEvents'>;
  readonly world: World;
  /** Catalogues in which a check may be named, the aircraft's own first. */
  catalogues(aircraft: string): readonly Catalogue[];
  /** Writes into the walk in progress, where it is this aircraft's; null where it is not. */
  inWalk(aircraft: string): ((what: Happening) => Promise<Outcome>) | null;
}

export type PhrasebookDesk = ReturnType<typeof phrasebookDesk>;

/** What was learned, to be looked at, forgotten, given away and brought in. */
export function phrasebookDesk({ store, world, catalogues, inWalk }: PhrasebookParts) {
  /** What this device goes by: what a stranger's backup teaches is not among it. */
  const events = async () => believed(await store.learnedEvents(), store.device);

  /** One after the other: what a walk in progress learns or forgets counts from the next word on. */
  async function write(aircraft: string, what: readonly Happening[]): Promise<Outcome> {
    const walking = inWalk(aircraft);
    if (walking === null) {
      await store.append(
        what.map((w): Draft => ({
          v: 1,
          id: world.id(),
          walk: null,
          aircraft,
          at: world.now(),
          t: null,
          what: w,
        })),
      );
      return good(null);
    }
    for (const w of what) {
      const done = await walking(w);
      if (!done.ok) return done;
    }
    return good(null);
  }

  async function change(line: string, aircraft: string, undone: boolean): Promise<Outcome> {
    const ids = tellingsOf(await events(), aircraft, line);
    return write(
      aircraft,
      ids.map((learned) => ({ kind: 'unlearned', learned, ...(undone ? { undone } : {}) })),
    );
  }

  function shown(aircraft: string, line: Learned & Partial<Line>): LearnedLine {
    const { id, speaker, phrase, told, asked } = line;
    return {
      id,
      speaker,
      phrase,
      means: meaning(line, catalogues(aircraft)),
      on: line.on ?? new Date(line.at ?? 0).toISOString().slice(0, 10),
      told: told ?? null,
      asked: asked ?? null,
    };
  }

  /** Everything that was learned on an aircraft; null: nothing. */
  async function bookOf(aircraft: string): Promise<PhrasebookFile | null> {
    const file = phrasebookFile(await events(), aircraft, world.now());
    return file.learned.length + file.forgotten.length === 0 ? null : file;
  }

  async function takeBook(book: PhrasebookFile, yes: boolean): Promise<Outcome<LearnedTaken>> {
    const { aircraft } = book;
    const merged = mergedWith(await events(), book);
    const fresh = yes ? [...merged.learned, ...merged.asks] : merged.learned;
    const done = await write(aircraft, [
      ...fresh.map((learned): Happening => ({ kind: 'learned', learned })),
      ...merged.forgotten.map((learned): Happening => ({ kind: 'unlearned', learned })),
    ]);
    if (!done.ok) return done;
    const asks = yes ? [] : merged.asks.map((line) => shown(aircraft, line));
    return good({
      aircraft,
      asks,
      text: [
        `${aircraft}: ${counted(fresh.length, 'phrase')} brought in`,
        ...(merged.known === 0 ? [] : [`${merged.known} known before`]),
        ...(merged.forgotten.length === 0 ? [] : [`${merged.forgotten.length} forgotten there`]),
        ...(asks.length === 0 ? [] : [`${asks.length} to be asked about first`]),
      ]
        .join(', ')
        .concat('.'),
    });
  }

  return {
    of: async (aircraft: string, speaker: string | null): Promise<readonly Line[]> =>
      phrasebookOf(await events(), aircraft, speaker),

    async book(aircraft: string): Promise<LearnedBook> {
      const { lines, forgotten } = phrasebooksOf(await events(), aircraft);
      const newestFirst = (list: readonly Line[]) =>
        [...list].sort((a, b) => b.at - a.at).map((line) => shown(aircraft, line));
      return { lines: newestFirst(lines), forgotten: newestFirst(forgotten) };
    },

    forget: (line: string, aircraft: string) => change(line, aircraft, false),
    remember: (line: string, aircraft: string) => change(line, aircraft, true),

    bookOf,

    /** What a book would add, before anything is taken. */
    look: async (book: PhrasebookFile): Promise<LearnedOffer> => {
      const merged = mergedWith(await events(), book);
      return {
        phrases: merged.learned.length,
        asks: merged.asks.map((line) => shown(book.aircraft, line)),
      };
    },

    /** What a book that nobody carried here would change: all of it waits for a yes. */
    offered: async (
      book: PhrasebookFile,
    ): Promise<{
      readonly lines: readonly LearnedLine[];
      readonly forgets: readonly LearnedLine[];
    }> => {
      const own = await events();
      const merged = mergedWith(own, book);
      const here = toldIn(own.filter((e) => e.aircraft === book.aircraft));
      return {
        lines: [...merged.learned, ...merged.asks].map((line) => shown(book.aircraft, line)),
        forgets: here
          .filter((line) => merged.forgotten.includes(line.id))
          .map((line) => shown(book.aircraft, line)),
      };
    },

    /**
     * Forgets what the school has erased, whoever taught it. What makes words a
     * fault stays until somebody here has it forgotten: it can cost a question and
     * nothing worse, and no school makes a fault milder in silence.
     *
     * @returns one sentence for each aircraft
     */
    async forgetErased(erased: readonly string[]): Promise<readonly string[]> {
      if (erased.length === 0) return [];
      const all = await events();
      const told: string[] = [];
      for (const aircraft of new Set(all.flatMap((e) => e.aircraft ?? []))) {
        const own = all.filter((e) => e.aircraft === aircraft);
        const gone = goneIn(own);
        const lines = toldIn(own).filter((l) => erased.includes(l.id) && !gone.has(l.id));
        const forgets = lines.filter((l) => !isBad(l.means));
        const stays = lines.length - forgets.length;
        if (lines.length === 0) continue;
        await write(
          aircraft,
          forgets.map(({ id }) => ({ kind: 'unlearned', learned: id })),
        );
        told.push(
          `${aircraft}: the school has erased ${counted(lines.length, 'phrase')} of somebody; ${forgets.length} of them count here no more, and ${stays} that make words a fault stay until they are forgotten here.`,
        );
      }
      return told;
    },

    async give(aircraft: string): Promise<Outcome<{ name: string; blob: Blob }>> {
      const file = await bookOf(aircraft);
      if (file === null)
        return bad(`Nothing was learned on ${aircraft} yet; there is nothing to give away.`);
      const name = `${aircraft.replace(/[^\p{L}\p{N}]+/gu, '-')}-phrasebook.json`;
      const text = `${JSON.stringify(file, null, 2)}\n`;
      return good({ name, blob: new Blob([text], { type: 'application/json' }) });
    },

    takeBook,

    /** @param yes takes also what makes words good, harmless or a fault milder */
    async take(file: File, yes = false): Promise<Outcome<LearnedTaken>> {
      const small = notTooLarge(file);
      if (!small.ok) return small;
      const text = await file.text();
      if (!isPhrasebook(text))
        return bad(`${file.name} is no phrasebook; one is given away under "What was learned".`);
      const read = readPhrasebook(text);
      if (!read.ok) return bad(`${file.name}: ${read.error}`);
      return takeBook(read.value, yes);
    },
  };
}

/** "means the tail stinger", for a person. */
function meaning({ means, ...line }: Learned & Partial<Line>, list: readonly Catalogue[]): string {
  const named = (id: string): string =>
    list.flatMap((c) => placeOf(c, id)?.check.name ?? [])[0] ?? id.replaceAll('-', ' ');
  switch (means.is) {
    case 'check':
      return `is the ${named(means.check).toLowerCase()}`;
    case 'good':
      return `is good, of the ${named(means.check).toLowerCase()}`;
    case 'bad':
      return 'is a fault';
    case 'condition':
      return `is a fault: ${means.condition.replaceAll('-', ' ')}`;
    case 'meant':
      return means.good
        ? `meant that the ${named(means.check).toLowerCase()} is good`
        : `meant a fault of the ${named(means.check).toLowerCase()}`;
    case 'severity':
      return `at the ${named(means.check).toLowerCase()}: ${SEVERITY_WORDS[means.severity]}`;
    case 'nothing':
      return (line.times ?? 1) < SURELY
        ? 'was about nothing; said so once more, it is not asked about'
        : 'is about nothing; not asked about';
  }
}

const counted = (n: number, what: string): string => `${n} ${what}${n === 1 ? '' : 's'}`;
