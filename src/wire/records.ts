import { fold } from '#reconcile';
import type {
  Outcome,
  ReadingCorrection,
  StandingCorrection,
  WalkRecord,
  WalkSeal,
} from '#screens';
import type { Store, WalkTrust } from '#store';
import type { Event, Happening } from '#shared/event';
import type { World } from '#shared/log';
import type { Observation, Statement } from '#shared/statement';
import { devicesOf, guestTrouble } from './let-in.ts';
import { bad, good } from './outcome.ts';

/** Reads kept walks, and adds what a reviewer says of them. */
export interface Records {
  open(walk: string): Promise<Outcome<WalkRecord>>;
  reviewReading(walk: string, correction: ReadingCorrection): Promise<Outcome<WalkRecord>>;
  reviewStanding(walk: string, correction: StandingCorrection): Promise<Outcome<WalkRecord>>;
  amend(walk: string, by: string, note: string): Promise<Outcome<WalkRecord>>;
}

export function recordsOf(store: Store, world: World): Records {
  async function open(walk: string): Promise<Outcome<WalkRecord>> {
    const trust = await store.judged(walk);
    const begun = begunIn(trust.counts);
    if (begun === null) return bad('There is no such walk on this device.');
    const catalogue = await store.catalogue(begun.edition);
    if (catalogue === null) {
      return bad(
        `The catalogue that this walk was made with (${begun.catalogue}) is not on this device; bring in a backup that holds it.`,
      );
    }
    const coverage = fold(catalogue, trust.counts, begun.edition);
    const isOpen = coverage.signed === null && coverage.discarded === undefined;
    return good({
      id: walk,
      aircraft: begun.aircraft,
      catalogue,
      events: [...trust.counts, ...trust.after],
      coverage,
      reviewed: fold(catalogue, [...trust.counts, ...trust.beside], begun.edition),
      seal: await sealIn(trust),
      devices: await devicesOf(store, trust, { walk, open: isOpen }),
    });
  }

  /** What may be said of the seal, with the findings of versions that count nowhere (R4). */
  async function sealIn(trust: WalkTrust): Promise<WalkSeal> {
    const versions = trust.versions.map(async ({ name, text }) => {
      const events = await store.counted(name);
      const edition = begunIn(events)?.edition ?? '';
      const catalogue = await store.catalogue(edition);
      const findings = catalogue === null ? [] : fold(catalogue, events, edition).findings;
      return { id: name, text, findings };
    });
    return {
      ...trust.verdict,
      beside: trust.besideLines,
      versions: await Promise.all(versions),
    };
  }

  async function review(
    walk: string,
    add: (record: WalkRecord) => Happening | string,
  ): Promise<Outcome<WalkRecord>> {
    const opened = await open(walk);
    if (!opened.ok) return opened;
    if (opened.value.events[0]?.walk !== walk)
      return bad('This is another version of the walk. Open the walk itself to review it.');
    const words = add(opened.value);
    if (typeof words === 'string') return bad(words);
    const long = tooLong(words);
    if (long !== null) return bad(long);
    // Outside the walk's own time: a walk ends at its finish, whenever it is reviewed.
    const { aircraft } = opened.value;
    const at = world.now();
    await store.append([{ v: 1, id: world.id(), walk, aircraft, at, t: null, what: words }]);
    return open(walk);
  }

  return {
    open,
    reviewReading: (walk, { statement, instead, by, note }) =>
      review(walk, ({ events }) => {
        const original = statementIn(events, statement);
        if (original === null) return 'That statement is not in this walk.';
        const corrected = instead === null ? null : correctedTo(original, instead);
        if (instead !== null && corrected === null) {
          return 'Only a statement about the aircraft can be given another check.';
        }
        const of = { kind: 'reading' as const, statement, instead: corrected };
        return { kind: 'reviewed', by, note, of };
      }),
    reviewStanding: (walk, { check, standing, by, note }) =>
      review(walk, () => ({
        kind: 'reviewed',
        by,
        note,
        of: { kind: 'standing', check, standing },
      })),
    amend: (walk, by, note) =>
      review(walk, () =>
        by.trim() === '' || note.trim() === ''
          ? 'A note after the signature needs a name and words.'
          : { kind: 'amendment', by: by.trim(), note: note.trim() },
      ),
  };
}

/** Characters of a note beside a walk: a page of a form. More makes the sheet a letter. */
const LONGEST_NOTE = 2000;
const LONGEST_NAME = 80;

/** One sentence when what is to stand beside a walk is too long for its sheet. */
function tooLong(what: Happening): string | null {
  if (what.kind !== 'reviewed' && what.kind !== 'amendment') return null;
  if (what.by.length > LONGEST_NAME) return `A name has at most ${LONGEST_NAME} characters.`;
  const { length } = what.note;
  return length <= LONGEST_NOTE
    ? null
    : `A note beside a walk has at most ${LONGEST_NOTE} characters, and this one has ${length}. Shorten it, or add several.`;
}

export function begunIn(events: readonly Event[]) {
  for (const { what } of events) if (what.kind === 'walk-begun') return what;
  return null;
}

/** One sentence when this device cannot go on with a walk. */
export async function takesUp(
  { events, coverage, id }: WalkRecord,
  store: Pick<Store, 'device' | 'publicKey'>,
): Promise<string | null> {
  if (coverage.signed !== null)
    return 'This walk is signed: nothing changes it any more. Begin a new walk.';
  if (coverage.discarded !== undefined)
    return 'This walk was discarded: nothing is added to it any more. Begin a new walk.';
  const [first] = events;
  if (first?.walk !== id)
    return 'This is another version of the walk. Open the walk itself to go on with it.';
  return first.device === store.device ? null : guestTrouble(store, events);
}

function statementIn(events: readonly Event[], id: string): Statement | null {
  for (const { what } of events) {
    if (what.kind === 'stated' && what.statement.id === id) return what.statement;
  }
  return null;
}

/** The same words, said of another check. */
function correctedTo(
  original: Statement,
  instead: { readonly check: string; readonly instances: readonly string[] },
): Observation | null {
  const said = original.kind === 'two-candidates' ? original.said : original;
  if (said.kind !== 'observation') return null;
  return {
    ...said,
    about: {
      kind: 'check',
      check: instead.check,
      which: { how: 'named', instances: [...instead.instances] },
      span: said.about.span,
    },
    why: [...said.why, 'A reviewer gave it this check.'],
  };
}
