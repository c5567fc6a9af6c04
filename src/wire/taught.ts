import type { Event } from '#shared/event';
import { phrasebookOf, type Line } from '#shared/phrasebook';
import type { Reader } from '#shared/reader';

/** A reader that learns while it reads: what an answer told is known to the next utterance. */
export interface TaughtReader {
  readonly reader: Reader;
  /** Takes events in; those that teach or forget change what the next words mean. */
  take(events: readonly Event[]): void;
  lines(): readonly Line[];
}

export function taughtReader(
  taught: (lines: readonly Line[]) => Reader,
  known: readonly Event[],
  of: { aircraft(): string; speaker(): string | null },
): TaughtReader {
  const events = [...known];
  let lines: readonly Line[] = [];
  let reader: Reader | null = null;
  const now = (): Reader => {
    if (reader === null) {
      lines = phrasebookOf(events, of.aircraft(), of.speaker());
      reader = taught(lines);
    }
    return reader;
  };
  return {
    reader: {
      read: (heard, scene) => now().read(heard, scene),
      hear: (scene, heard) => now().hear?.(scene, heard) ?? scene,
      follow: (scene, statement) => now().follow(scene, statement),
    },
    take(more) {
      const teach = more.filter((e) =>
        ['learned', 'unlearned', 'walk-begun'].includes(e.what.kind),
      );
      if (teach.length === 0) return;
      events.push(...teach.filter((e) => e.what.kind !== 'walk-begun'));
      reader = null;
    },
    lines: () => {
      now();
      return lines;
    },
  };
}
