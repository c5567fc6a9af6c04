/**
 * The files of the second copy. Two kinds of them: the log in segments, lines
 * of JSON; and one file of sound for each recording. Nothing in here knows
 * what the lines say.
 */
export interface CopyFiles {
  /**
   * Appends in one write; on the disk when it resolves, with the size of the
   * file afterwards. A file that does not end with a line's end was cut off in
   * the middle of a write: then a line's end is put before, so that what was
   * cut spoils nothing that follows.
   */
  append(file: string, data: Uint8Array): Promise<number>;
  list(): Promise<readonly string[]>;
  /** In bytes; 0 where there is none. */
  size(file: string): Promise<number>;
  /** Bytes `from` to `to` of a file; empty where there is none. */
  read(file: string, from?: number, to?: number): Promise<Uint8Array>;
  /** No error when it is not there. */
  remove(file: string): Promise<void>;
  close(): void;
}

const LINE_END = 10;

/** The same in memory, for tests: what a disk holds, to be torn and changed. */
export function memoryFiles(disk = new Map<string, Uint8Array>()): CopyFiles {
  return {
    async append(file, data) {
      const before = disk.get(file) ?? new Uint8Array();
      const cut = before.length > 0 && before.at(-1) !== LINE_END;
      const after = new Uint8Array([...before, ...(cut ? [LINE_END] : []), ...data]);
      disk.set(file, after);
      return after.length;
    },
    list: async () => [...disk.keys()],
    size: async (file) => disk.get(file)?.length ?? 0,
    read: async (file, from = 0, to = Infinity) =>
      (disk.get(file) ?? new Uint8Array()).slice(from, to),
    async remove(file) {
      disk.delete(file);
    },
    close() {
      // Nothing is open.
    },
  };
}
