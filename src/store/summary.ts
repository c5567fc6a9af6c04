import type { WalkSummary } from './contract.ts';
import type { Digest } from './digest.ts';
import { ASIDE, type Shelf } from './shelf.ts';

/** The list of walks, latest first, without reading what was said on them. */
export async function summaries(shelf: Shelf, device: string): Promise<readonly WalkSummary[]> {
  const digests = await shelf.digests();
  const byWalk = new Map(digests.map((d) => [d.walk, d]));
  return digests
    .flatMap((digest) => summaryOf(digest, byWalk.get(`${ASIDE}${digest.walk}`), device))
    .sort((a, b) => b.begun - a.begun || (a.walk < b.walk ? 1 : -1));
}

function summaryOf(digest: Digest, aside: Digest | undefined, device: string): WalkSummary[] {
  const { walk, begun, events, last, finished, discarded, decision, signed, sealed } = digest;
  if (begun === null || walk.startsWith(ASIDE)) return [];
  return [
    {
      walk,
      aircraft: begun.aircraft,
      catalogue: begun.catalogue,
      edition: begun.edition,
      pilot: begun.pilot,
      instructor: begun.instructor,
      hours: begun.hours,
      begun: begun.at,
      last,
      events,
      finished,
      discarded,
      decision,
      signed,
      sealed,
      own: begun.device === device,
      // What was set aside can change which version of a walk is the walk.
      mark: [digest, aside].map((d) => (d === undefined ? '' : `${d.events} ${d.head}`)).join(' '),
    },
  ];
}
