import type { Draft, Event } from '#shared/event';
import type { Shelf } from '../shelf.ts';
import { BESIDE, QUIET, sealFields, type Held } from './held.ts';
import { heldRow } from '../reading.ts';
import { NEVER_BY_GUESTS } from './members.ts';
import { isLetIn } from './sealing.ts';

/** Whether this device may still write into a walk. */
type Turn = 'open' | 'guest' | 'ended' | 'elsewhere';

const ENDED =
  'This walk is signed and sealed: nothing more is written into it. Say what has to be added in its debrief, or begin a new walk.';
const ELSEWHERE =
  'This walk was begun on another device, which has not let this one in. Begin a walk of your own here, or say it in the debrief.';

const NOT_BY_GUESTS =
  'Only the device that began this walk finishes, decides, signs or discards it, and lets others in. Hand over what was said here, and it is counted there.';

/** Keeps what is signed final: asked before anything is appended. */
export interface Finality {
  /** One sentence when these may not be written. */
  refusal(drafts: readonly Draft[]): Promise<string | null>;
  /** What was written, here or in another tab. */
  note(events: readonly Event[]): void;
  /** Something was taken in: look again. */
  forget(): void;
}

export function finalityOf(shelf: Shelf, device: string): Finality {
  const turns = new Map<string, Turn>();

  async function turnOf(walk: string): Promise<Turn> {
    const known = turns.get(walk);
    if (known !== undefined) return known;
    const rows = await shelf.rows({ index: 'walk', value: walk });
    const telling = rows
      .filter((r) => TELLING.has(r.kind))
      .map(heldRow)
      .filter((e) => e.kind !== 'sealed' || e.device === device);
    const turn = turnIn(telling, device);
    turns.set(walk, turn);
    return turn;
  }

  return {
    async refusal(drafts) {
      for (const { walk, what } of drafts) {
        if (walk === null || BESIDE.has(what.kind) || QUIET.has(what.kind)) continue;
        const turn = await turnOf(walk);
        if (turn === 'ended') return ENDED;
        if (turn === 'elsewhere') return ELSEWHERE;
        if (turn === 'guest' && NEVER_BY_GUESTS.has(what.kind)) return NOT_BY_GUESTS;
      }
      return null;
    },
    note(events) {
      for (const { walk, what, device: by } of events)
        if (walk !== null && by === device)
          if (what.kind === 'signed') turns.set(walk, 'ended');
          // Whoever was let in seals what it added so far, and may go on.
          else if (what.kind === 'sealed' && what.covers?.part !== 'beside') turns.delete(walk);
    },
    forget: () => turns.clear(),
  };
}

function turnIn(telling: readonly Held[], device: string): Turn {
  const own = (e: Held) => e.device === device;
  const begun = telling.filter((e) => e.kind === 'walk-begun');
  if (begun.length === 0 || begun.some(own)) {
    const ended = telling.some(
      (e) => own(e) && (e.kind === 'signed' || (e.kind === 'sealed' && endsIt(e))),
    );
    return ended ? 'ended' : 'open';
  }
  if (!isLetIn(telling, device)) return 'elsewhere';
  const beginners = new Set(begun.map((e) => e.device));
  return telling.some((e) => e.kind === 'signed' && beginners.has(e.device)) ? 'ended' : 'guest';
}

const TELLING: ReadonlySet<string> = new Set(['walk-begun', 'let-in', 'signed', 'sealed']);

function endsIt(seal: Parameters<typeof sealFields>[0]): boolean {
  const { covers } = sealFields(seal);
  return covers === null || (covers !== 'bad' && covers.part === 'walk');
}
