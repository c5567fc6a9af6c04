/**
 * The hand that writes the second copy: only a worker may open a file of the
 * origin private file system for writing at once (File System Standard,
 * createSyncAccessHandle). Each write opens, appends, flushes and closes under
 * one lock of all tabs: no tab has to be elected, and none that sleeps stands
 * in the way of another.
 */

/** What is used of FileSystemSyncAccessHandle, which TypeScript's page library leaves out. */
interface Access {
  write(data: Uint8Array, options: { at: number }): number;
  read(data: Uint8Array, options: { at: number }): number;
  getSize(): number;
  truncate(size: number): void;
  flush(): void;
  close(): void;
}
type WithAccess = FileSystemFileHandle & { createSyncAccessHandle(): Promise<Access> };
type Entries = FileSystemDirectoryHandle & { values(): AsyncIterable<FileSystemHandle> };

export type Ask =
  | { readonly do: 'open'; readonly folder: string }
  | { readonly do: 'append'; readonly file: string; readonly data: Uint8Array }
  | { readonly do: 'list' }
  | { readonly do: 'size'; readonly file: string }
  | { readonly do: 'read'; readonly file: string; readonly from: number; readonly to: number }
  | { readonly do: 'remove'; readonly file: string };
export type Asked = Ask & { readonly n: number };
export interface Answer {
  readonly n: number;
  readonly value?: unknown;
  /** Name and message of the error. */
  readonly wrong?: string;
}

const LINE_END = 10;
let lock = '';
let folder: FileSystemDirectoryHandle | null = null;
const handles = new Map<string, FileSystemFileHandle>();

function here(): FileSystemDirectoryHandle {
  if (folder === null) throw new Error('The folder is not open.');
  return folder;
}

function alone<T>(act: () => Promise<T>): Promise<T> {
  return navigator.locks.request(lock, act) as Promise<T>;
}

async function appendTo(file: string, data: Uint8Array): Promise<number> {
  const handle = handles.get(file) ?? (await here().getFileHandle(file, { create: true }));
  handles.set(file, handle);
  const access = await (handle as WithAccess).createSyncAccessHandle();
  try {
    const size = access.getSize();
    const last = new Uint8Array([LINE_END]);
    if (size > 0) access.read(last, { at: size - 1 });
    const cut = last[0] !== LINE_END;
    const whole = cut ? new Uint8Array([LINE_END, ...data]) : data;
    const written = access.write(whole, { at: size });
    if (written < whole.length) {
      access.truncate(size);
      throw new DOMException('The file could not be written to its end.', 'QuotaExceededError');
    }
    access.flush();
    return size + whole.length;
  } finally {
    access.close();
  }
}

async function names(): Promise<string[]> {
  const found: string[] = [];
  for await (const entry of (here() as Entries).values())
    if (entry.kind === 'file') found.push(entry.name);
  return found;
}

async function fileOf(file: string): Promise<Blob> {
  try {
    return await (await here().getFileHandle(file)).getFile();
  } catch (error) {
    if (isMissing(error)) return new Blob();
    throw error;
  }
}

async function bytesOf(file: string, from: number, to: number): Promise<Uint8Array> {
  return new Uint8Array(await (await fileOf(file)).slice(from, to).arrayBuffer());
}

async function removeFile(file: string): Promise<void> {
  handles.delete(file);
  try {
    await here().removeEntry(file);
  } catch (error) {
    if (!isMissing(error)) throw error;
  }
}

function isMissing(error: unknown): boolean {
  return error instanceof DOMException && error.name === 'NotFoundError';
}

async function answer(ask: Ask): Promise<unknown> {
  switch (ask.do) {
    case 'open': {
      lock = `${ask.folder} copy`;
      if (!('createSyncAccessHandle' in FileSystemFileHandle.prototype))
        throw new Error('Files cannot be written at once here.');
      const root = await navigator.storage.getDirectory();
      folder = await root.getDirectoryHandle(ask.folder, { create: true });
      return null;
    }
    case 'append':
      return alone(() => appendTo(ask.file, ask.data));
    case 'list':
      return names();
    case 'size':
      return (await fileOf(ask.file)).size;
    case 'read':
      return bytesOf(ask.file, ask.from, ask.to);
    case 'remove':
      return alone(() => removeFile(ask.file));
  }
}

// In order: what was asked first is on the disk first.
let before: Promise<unknown> = Promise.resolve();
globalThis.onmessage = (message: MessageEvent<Asked>) => {
  const { data } = message;
  before = before.then(async () => {
    let said: Answer;
    try {
      said = { n: data.n, value: await answer(data) };
    } catch (error) {
      said = { n: data.n, wrong: error instanceof Error ? `${error.name}: ${error.message}` : '' };
    }
    globalThis.postMessage(said);
  });
};
