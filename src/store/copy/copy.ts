import { sha256Hex } from '../canonical.ts';
import type { SoundRow } from '../shelf.ts';
import type { CopyFiles } from './files.ts';
import { frameOf, lineOf, type Line } from './lines.ts';

/**
 * A segment of the log is left for the next when it is this long. Each opening
 * reads the last two; a short segment is read fast, and a new file is a change
 * to the browser's own list of files, which should be rare.
 */
const SEGMENT_BYTES = 512 * 1024;

/** Said to the pilot, before a walk. */
export const ONE_COPY =
  'This browser keeps only one copy of the record. After a crash it may throw it away: save a backup after the walk.';
export const COPY_BEHIND =
  'The second copy of the record could not be written. What is said is on disk once: save a backup after the walk, then load this page again.';

/**
 * The second copy of the record, in other files than the database. It gives
 * back what was acknowledged when the browser throws its database away.
 */
export interface Copy {
  readonly files: CopyFiles;
  /** Since this page was opened everything was written to it. */
  whole(): boolean;
  /** Never reject: a copy that fails is said to be behind, and the record goes on. */
  line(line: Line): Promise<void>;
  sound(chunk: SoundRow): Promise<void>;
  erase(recording: string): Promise<void>;
}

/** @param onBehind called once, when it could not be written; nothing is written to it after that */
export async function copyOver(files: CopyFiles, onBehind: () => void): Promise<Copy> {
  let segment = Math.max(1, ...(await segmentsOf(files)).map(({ number }) => number));
  let whole = true;

  async function unlessBehind(act: () => Promise<void>): Promise<void> {
    if (!whole) return;
    try {
      await act();
    } catch {
      if (whole) onBehind();
      whole = false;
    }
  }
  return {
    files,
    whole: () => whole,
    line: (line) =>
      unlessBehind(async () => {
        const size = await files.append(segmentName(segment), lineOf(line));
        if (size > SEGMENT_BYTES) segment += 1;
      }),
    sound: (chunk) =>
      unlessBehind(
        async () => void (await files.append(soundName(chunk.recording), frameOf(chunk))),
      ),
    async erase(recording) {
      // Also when it is behind: who asks for erasure gets it. What cannot be
      // erased now is erased when the record is opened again.
      await files.remove(soundName(recording)).catch(() => undefined);
    },
  };
}

const segmentName = (number: number) => `log-${String(number).padStart(6, '0')}.jsonl`;

/** The segments of the log, oldest first. */
export async function segmentsOf(
  files: CopyFiles,
): Promise<readonly { readonly name: string; readonly number: number }[]> {
  return (await files.list())
    .flatMap((name) => {
      const number = Number(/^log-(\d+)\.jsonl$/.exec(name)?.[1]);
      return Number.isInteger(number) ? [{ name, number }] : [];
    })
    .sort((a, b) => a.number - b.number);
}

/** A recording's file. Ids may come from elsewhere and hold what a name may not: so their hash. */
export function soundName(recording: string): string {
  return `sound-${sha256Hex(recording).slice(0, 32)}`;
}
