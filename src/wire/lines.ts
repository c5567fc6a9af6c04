import { fold } from '#reconcile';
import type { WalkLine } from '#screens';
import type { Store, WalkSummary } from '#store';
import { countOf, findingCounts } from '#shared/counts';
import type { Coverage } from '#shared/coverage';
import type { Event } from '#shared/event';
import { lengthOf } from '#shared/length';
import { FOLDED_BY } from './versions.ts';

/** What the list shows of a walk beyond its summary; costs a fold. */
interface Counts {
  readonly open: number;
  readonly findings: number;
  readonly state: WalkLine['state'];
  /** Seconds from begin to finish; null where its times are unknown. */
  readonly seconds: number | null;
}

/** As it is kept: with what it was made from and by. */
interface Kept extends Counts {
  readonly mark: string;
}

/** The list of walks, fast: from summaries, with what was counted before and still holds. */
export interface Lines {
  /** Reads no walk. What was not counted yet is null. */
  list(): Promise<readonly WalkLine[]>;
  /** Counts a few of these that are not counted yet, and keeps it; the first ones first. */
  count(walks: readonly string[]): Promise<readonly WalkLine[]>;
}

const KIND = 'counts';
/** Counted before the list is drawn again: a quarter of a second. */
const AT_ONCE = 10;

export function linesOf(store: Store): Lines {
  /** What was counted, as it is kept; read once. */
  let kept: Map<string, Kept> | null = null;
  let names: ReadonlyMap<string, string> = new Map();
  /** States of walks that cannot be counted, because their catalogue is not here. */
  const blank = new Set<string>();
  /** One counting at a time: two would count the same. */
  let running: Promise<unknown> = Promise.resolve();

  async function all(): Promise<Map<string, Kept>> {
    if (kept !== null) return kept;
    const found = new Map<string, Kept>();
    for (const [walk, value] of await store.derived(KIND))
      if (isKept(value)) found.set(walk, value);
    return (kept = found);
  }

  async function namesOf(summaries: readonly WalkSummary[]): Promise<void> {
    const editions = [...new Set(summaries.map((s) => s.edition))].filter((e) => !names.has(e));
    if (editions.length === 0) return;
    const more = await Promise.all(
      editions.map(async (edition) => {
        const name = (await catalogueIn(store, edition))?.name;
        return name === undefined ? [] : [[edition, name] as const];
      }),
    );
    names = new Map([...names, ...more.flat()]);
  }

  function lineOf(summary: WalkSummary, counts: Kept | undefined): WalkLine {
    const holds = counts !== undefined && counts.mark === markOf(summary);
    return {
      id: summary.walk,
      aircraft: summary.aircraft,
      catalogue: summary.catalogue,
      catalogueName: names.get(summary.edition) ?? summary.catalogue,
      pilot: summary.pilot,
      begun: summary.begun,
      // Until it is counted nobody knows: the last event may be a review of next week.
      seconds: holds ? counts.seconds : null,
      state: holds ? counts.state : stateOf(summary),
      open: holds ? counts.open : null,
      findings: holds ? counts.findings : null,
      brought: !summary.own,
    };
  }

  async function list(): Promise<readonly WalkLine[]> {
    const [summaries, counted] = await Promise.all([store.walks(), all()]);
    await namesOf(summaries);
    return summaries.map((summary) => lineOf(summary, counted.get(summary.walk)));
  }

  return {
    list,
    count(walks) {
      const next = running.then(() => countSome(walks));
      running = next.catch(() => undefined);
      return next;
    },
  };

  async function countSome(walks: readonly string[]): Promise<readonly WalkLine[]> {
    const [summaries, counted] = await Promise.all([store.walks(), all()]);
    const by = new Map(summaries.map((s) => [s.walk, s]));
    const fresh = new Map<string, Kept>();
    for (const walk of walks) {
      const summary = by.get(walk);
      const mark = summary === undefined ? '' : markOf(summary);
      if (summary === undefined || counted.get(walk)?.mark === mark || blank.has(mark)) continue;
      const counts = await countsOf(store, summary);
      if (counts === null) blank.add(mark);
      else fresh.set(walk, { ...counts, mark });
      if (fresh.size >= AT_ONCE) break;
      // The page draws and listens between one walk and the next.
      await new Promise((resolve) => setTimeout(resolve, 0));
    }
    for (const [walk, one] of fresh) counted.set(walk, one);
    if (fresh.size > 0) await store.keepDerived(KIND, fresh);
    return list();
  }
}

function markOf(summary: WalkSummary): string {
  return `${FOLDED_BY} ${summary.edition} ${summary.mark}`;
}

function stateOf({
  signed,
  finished,
  discarded,
}: Pick<WalkSummary, 'signed' | 'finished' | 'discarded'>) {
  if (discarded) return 'discarded';
  return signed !== null ? 'signed' : finished ? 'finished' : 'walking';
}

async function countsOf(store: Store, { walk, edition }: WalkSummary): Promise<Counts | null> {
  const catalogue = await catalogueIn(store, edition);
  if (catalogue === null) return null;
  const events = await store.counted(walk);
  const coverage = fold(catalogue, events, edition);
  return { ...counted(coverage), state: stateIn(events), seconds: lengthOf(events) };
}

/** A catalogue that the disk spoiled is named when its walk is opened; the list of all others is shown. */
async function catalogueIn(store: Store, edition: string) {
  return store.catalogue(edition).catch(() => null);
}

function counted(coverage: Coverage) {
  return {
    open: countOf(coverage.checks).open,
    findings: findingCounts(coverage).findings,
  };
}

function stateIn(events: readonly Event[]): WalkLine['state'] {
  const has = (kind: Event['what']['kind']) => events.some(({ what }) => what.kind === kind);
  if (has('discarded')) return 'discarded';
  return has('signed') ? 'signed' : has('finished') ? 'finished' : 'walking';
}

function isKept(value: unknown): value is Kept {
  if (typeof value !== 'object' || value === null) return false;
  const { mark, open, findings, state, seconds } = value as Partial<Kept>;
  return (
    typeof mark === 'string' &&
    typeof open === 'number' &&
    typeof findings === 'number' &&
    (seconds === null || typeof seconds === 'number') &&
    (state === 'walking' || state === 'finished' || state === 'signed' || state === 'discarded')
  );
}
