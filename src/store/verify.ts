import { isErasure } from '#shared/kept';
import {
  hashFits,
  hasTime,
  inOrder,
  isPlain,
  linkOf,
  NO_CLOCK,
  NOT_PLAIN,
  type Link,
  type Raw,
} from './chain.ts';
import { BESIDE, held as heldOf, sealFields } from './trust/held.ts';
import { sealTrouble } from './trust/seal-form.ts';

/** What came of checking chains and seals. */
export interface Verdict {
  readonly ok: boolean;
  readonly events: number;
  /** The first event that does not hold, in the order of the log. */
  readonly broken: Broken | null;
  /** All that do not hold, in that order. */
  readonly faults: readonly Broken[];
  readonly chains: readonly ChainSpan[];
  readonly seals: readonly SealFound[];
  /** Where a device's chain is not all here, between walks. Not wrong in itself: a part was handed over. */
  readonly gaps: readonly Gap[];
}

export interface Broken {
  /** Id of the event; what there is of it when it has none. */
  readonly event: string;
  readonly device: string | null;
  readonly walk: string | null;
  /** missing: the event itself holds, and the one before it is not there. */
  readonly kind: 'form' | 'changed' | 'link' | 'missing' | 'seal';
  /** One sentence. */
  readonly why: string;
}
type Fault = Pick<Broken, 'kind' | 'why'>;

export interface ChainSpan {
  readonly device: string;
  readonly first: string;
  readonly last: string;
  /** Hash of the last event. */
  readonly head: string;
  readonly events: number;
  /** The chain is here from its very first event, without a gap. */
  readonly whole: boolean;
}

export interface SealFound {
  readonly event: string;
  readonly walk: string | null;
  readonly device: string;
  readonly publicKey: string;
}

export interface Gap {
  readonly device: string;
  /** The event whose predecessor is not here. */
  readonly before: string;
}

interface Held extends Link {
  readonly raw: Raw;
}

/**
 * Checks every hash, every link and every seal. Events may be of any format,
 * newer ones included: the chain is over what was written, not over what this
 * version understands of it.
 *
 * A link may be missing only before a walk begins, outside walks, before what is
 * said beside a walk (a review), and where a second device added to it: the
 * device that began a walk has to show every event of it. With `whole` no link may be missing at all.
 */
export function verifyEvents(
  events: readonly unknown[],
  options: { readonly whole?: boolean } = {},
): Verdict {
  const held: Held[] = [];
  const faults: Broken[] = [];
  events.forEach((raw, index) => {
    const link = linkOf(raw);
    if (link === null)
      faults.push({
        event: nameOf(raw) ?? `number ${index + 1}`,
        device: null,
        walk: null,
        kind: 'form',
        why: 'It is not an event: the fields of the chain are missing.',
      });
    else held.push({ ...link, raw: raw as Raw });
  });
  const ordered = inOrder(held);
  const byHash = new Map(ordered.map((e) => [e.hash, e]));
  const followed = new Map<string, string>();
  const ids = new Set<string>();
  const started = new Set<string>();
  /** The device that began each walk. */
  const begun = new Map<string, string>();
  for (const e of ordered)
    if (e.kind === 'walk-begun' && e.walk !== null && !begun.has(e.walk))
      begun.set(e.walk, e.device);
  const spans = new Map<string, ChainSpan>();
  const gaps: Gap[] = [];
  const seals: SealFound[] = [];

  for (const event of ordered) {
    const before = event.prev === null ? undefined : byHash.get(event.prev);
    const first = !started.has(event.device);
    const wrong = fault(event, before, first);
    if (wrong !== null)
      faults.push({ event: event.id, device: event.device, walk: event.walk, ...wrong });
    if (event.prev !== null && before === undefined)
      gaps.push({ device: event.device, before: event.id });
    ids.add(event.id);
    if (event.prev !== null) followed.set(`${event.device} ${event.prev}`, event.id);
    started.add(event.device);
    if (event.kind === 'sealed') seals.push(sealOf(event));
    const span = spans.get(event.device);
    spans.set(event.device, {
      device: event.device,
      first: span?.first ?? event.id,
      last: event.id,
      head: event.hash,
      events: (span?.events ?? 0) + 1,
      whole: (span?.whole ?? event.prev === null) && (span === undefined || before !== undefined),
    });
  }
  return {
    ok: faults.length === 0,
    events: events.length,
    broken: faults[0] ?? null,
    faults,
    chains: [...spans.values()],
    seals,
    gaps,
  };

  function fault(event: Held, before: Held | undefined, first: boolean): Fault | null {
    const wrong = (kind: Fault['kind'], why: string): Fault => ({ kind, why });
    if (!isPlain(event)) return wrong('form', NOT_PLAIN);
    if (!hasTime(event.raw)) return wrong('form', NO_CLOCK);
    if (ids.has(event.id)) return wrong('link', 'Its id is there twice.');
    if (!hashFits(event.raw, event.hash))
      return wrong('changed', 'It was changed after it was written: its hash does not match.');
    if (event.prev === null && !first)
      return wrong('link', 'It claims to be the first of its device, and others come before it.');
    if (before !== undefined && before.device !== event.device)
      return wrong('link', 'It follows an event of another device.');
    if (event.prev !== null && followed.has(`${event.device} ${event.prev}`))
      return wrong(
        'link',
        'Another event already follows the same predecessor: the log was forked.',
      );
    if (event.prev !== null && before === undefined) {
      if (options.whole === true) return wrong('missing', 'The event before it is missing.');
      const beginner = event.walk === null ? undefined : begun.get(event.walk);
      if (event.walk !== null && event.kind !== 'walk-begun' && !isBeside(event)) {
        if (beginner === undefined)
          return wrong('missing', 'The beginning of its walk is missing.');
        if (beginner === event.device)
          return wrong(
            'missing',
            'The event before it is missing: a part of this walk was taken out.',
          );
      }
    }
    if (event.kind === 'sealed') return sealFault(event);
    return null;
  }
}

/** The id of something that is no event, where it has one. */
function nameOf(raw: unknown): string | null {
  if (typeof raw !== 'object' || raw === null) return null;
  const { id } = raw as Raw;
  return typeof id === 'string' && id !== '' ? id : null;
}

function fieldsOf(event: Held) {
  return sealFields(heldOf(event, () => event.raw, 'new'));
}

function sealOf(event: Held): SealFound {
  const { publicKey } = fieldsOf(event);
  return { event: event.id, walk: event.walk, device: event.device, publicKey };
}

function sealFault(event: Held): Fault | null {
  const why = sealTrouble(fieldsOf(event), event.prev);
  return why === null ? null : { kind: 'seal', why };
}

/** Said beside a walk, long after it perhaps: what came between need not be here. */
function isBeside(event: Held): boolean {
  if (BESIDE.has(event.kind) || isErasure(event.kind)) return true;
  if (event.kind !== 'sealed') return false;
  const { covers } = fieldsOf(event);
  return covers !== null && covers !== 'bad' && covers.part === 'beside';
}
