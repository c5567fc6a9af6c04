import { EventFormat, type Event } from '#shared/event';
import { readAs } from '#shared/format';
import { inOrder } from '../chain.ts';
import type { Held } from './held.ts';
import type { Judged, Version } from './judge.ts';
import type { Sentences } from './sentences.ts';

/** A walk as it is shown: what counts, what stands beside it, and what may be said of both. */
export interface WalkTrust {
  /** What the sheet counts, in the order of the log. */
  readonly counts: readonly Event[];
  /** What was written after the end and bears on nothing counted, such as the last piece of sound. */
  readonly after: readonly Event[];
  /** Reviews and amendments that hold: beside the walk, never in its coverage. */
  readonly beside: readonly Event[];
  readonly besideLines: readonly string[];
  readonly verdict: Sentences;
  /** Other versions of this walk, by their names. */
  readonly versions: readonly { readonly name: string; readonly text: string }[];
}

/** Parts the name of a version from the name of its walk. */
const AT = '@';

export function versionName(walk: string, version: Version): string {
  return `${walk}${AT}${version.mark}`;
}

/** The walk that a name means, and the mark of the version where it has one. */
export function namedWalk(name: string): { readonly walk: string; readonly mark: string | null } {
  const at = name.lastIndexOf(AT);
  return at < 0
    ? { walk: name, mark: null }
    : { walk: name.slice(0, at), mark: name.slice(at + AT.length) };
}

/** The version that a mark means; the first one without a mark. Null when there is none. */
export function versionOf(judged: Judged, mark: string | null): Version | null {
  if (mark === null) return judged.version;
  return [judged.version, ...judged.others].find((v) => v?.mark === mark) ?? null;
}

/** Events that this version can read, in the order of the log. */
export function readHeld(events: readonly Held[]): readonly Event[] {
  return inOrder(events).flatMap((e) => {
    const read = readAs(EventFormat, e.raw);
    return read.ok ? [read.value] : [];
  });
}
