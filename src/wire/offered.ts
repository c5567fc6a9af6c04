import { z } from 'zod';
import type { PhraseOffer } from '#screens';
import { PHRASEBOOK, type PhrasebookFile } from '#shared/phrasebook-file';
import { PhrasePage } from '#shared/school-people';
import type { Store } from '#store';
import type { InSchool } from '#sync';
import type { PhrasebookDesk } from './phrasebook.ts';

/*
 * What was learned elsewhere in the school. It stays an offer until somebody
 * here says yes: a school is trusted no more than a file, and nothing that was
 * learned on another device counts in silence (`believed`).
 */

const KEY = 'school-phrases';
/** Lines kept as offers at most: some hundred are a season of one aircraft. */
const MOST = 20_000;

const Kept = z.object({
  cursor: z.string().nullable(),
  lines: PhrasePage.shape.phrases,
  /** Ids that somebody here did not want. */
  left: z.array(z.string()),
});
type Kept = z.infer<typeof Kept>;

const NOTHING: Kept = { cursor: null, lines: [], left: [] };

export interface OfferParts {
  readonly store: Pick<Store, 'setting' | 'setSetting'>;
  readonly phrases: Pick<PhrasebookDesk, 'offered' | 'takeBook' | 'forgetErased'>;
  now(): number;
}

export function offeredPhrases({ store, phrases, now }: OfferParts) {
  async function kept(): Promise<Kept> {
    const read = Kept.safeParse(await store.setting(KEY));
    return read.success ? read.data : NOTHING;
  }

  /** Of one aircraft, as the file that somebody would have carried here. */
  function bookOf({ lines, left }: Kept, aircraft: string): PhrasebookFile {
    const own = lines.filter((l) => l.aircraft === aircraft && !left.includes(l.learned.id));
    return {
      format: PHRASEBOOK,
      v: 1,
      made: now(),
      aircraft,
      learned: own.flatMap((l) => (l.forgotten === null ? [l.learned] : [])),
      forgotten: own.flatMap(({ learned, forgotten }) =>
        forgotten === null ? [] : [{ learned: learned.id, at: forgotten }],
      ),
    };
  }

  return {
    /**
     * Asks for what is new, unless nothing is.
     *
     * @param mark where asking would end, as the school says
     * @returns one sentence for each aircraft of which something was erased
     */
    async ask(school: InSchool, mark: string): Promise<readonly string[]> {
      let state = await kept();
      if (mark === '' || state.cursor === mark) return [];
      const told: string[] = [];
      for (let more = true; more;) {
        const page = await school.phrases(state.cursor);
        const gone = new Set([...page.erased, ...page.phrases.map((p) => p.learned.id)]);
        const before = page.anew ? [] : state.lines.filter((l) => !gone.has(l.learned.id));
        told.push(...(await phrases.forgetErased(page.erased)));
        state = {
          cursor: page.cursor,
          lines: [...before, ...page.phrases].slice(-MOST),
          left: state.left,
        };
        await store.setSetting(KEY, state);
        more = page.more;
      }
      return told;
    },

    /** What is offered now, by aircraft; nothing that counts here already. */
    async offers(): Promise<readonly PhraseOffer[]> {
      const state = await kept();
      const names = [...new Set(state.lines.map((l) => l.aircraft))].sort();
      const all = await Promise.all(
        names.map(async (aircraft) => ({
          aircraft,
          ...(await phrases.offered(bookOf(state, aircraft))),
        })),
      );
      return all.filter((o) => o.lines.length + o.forgets.length > 0);
    },

    /** Yes to everything that is offered of an aircraft. */
    take: async (aircraft: string) => phrases.takeBook(bookOf(await kept(), aircraft), true),

    /** No to it: what comes later is offered again, and this is not. */
    async leave(aircraft: string): Promise<void> {
      const state = await kept();
      const book = bookOf(state, aircraft);
      const left = [...book.learned.map((l) => l.id), ...book.forgotten.map((f) => f.learned)];
      await store.setSetting(KEY, { ...state, left: [...state.left, ...left].slice(-MOST) });
    },

    /** Out of the school: nothing of it is offered. */
    forget: () => store.setSetting(KEY, NOTHING),
  };
}
