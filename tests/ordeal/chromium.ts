import { spawn, type ChildProcess } from 'node:child_process';
import { readdirSync, readFileSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import type { Readable, Writable } from 'node:stream';

/**
 * A Chromium of our own, spoken to over its debugging pipe, so that the whole
 * tree of its processes can be killed at once: the driver's browsers hide their
 * process and restart it politely.
 */
export interface Browser {
  /** Evaluates in the page and gives back its JSON. */
  evaluate(code: string): Promise<unknown>;
  /** A message of the Chrome DevTools Protocol to the page. */
  send(method: string, params?: Record<string, unknown>): Promise<Record<string, unknown>>;
  /** kill -9 of every process of it, now. */
  kill(): Promise<void>;
  /** What Chromium itself said last, about its databases among other things. */
  log(): string;
  readonly pid: number;
}

export interface LaunchOptions {
  readonly executable: string;
  readonly profile: string;
  readonly url: string;
  /** What the page says by `window.tell(text)`. */
  readonly onTold: (text: string) => void;
  readonly args?: readonly string[];
}

type Answer = Record<string, unknown>;
interface Message {
  readonly id?: number;
  readonly method?: string;
  readonly params?: Answer;
  readonly result?: Answer;
  readonly error?: { readonly message: string };
}

/** A step that takes longer than this is a hang: a start takes about a second. */
const STEP_MS = 60_000;

/** Every live one, so that an ordeal that fails leaves none behind. */
const alive = new Set<ChildProcess>();
process.on('exit', () => {
  for (const child of alive) killTree(child);
});

function killTree(child: ChildProcess): void {
  if (child.pid === undefined) return;
  try {
    process.kill(-child.pid, 'SIGKILL');
  } catch {
    // Gone already.
  }
}

/** Whether any process of the group is left: signal 0 only asks. */
function treeLives(child: ChildProcess): boolean {
  if (child.pid === undefined) return false;
  try {
    process.kill(-child.pid, 0);
    return true;
  } catch {
    return false;
  }
}

/**
 * Processes that still name this profile in their command line, wherever they
 * are: a zygote's child may leave its group, and two browsers on one profile
 * would be an artefact of the harness, not a loss. Linux only; elsewhere none.
 */
export function holdersOf(profile: string): number[] {
  const named = `--user-data-dir=${profile}`;
  let all: string[];
  try {
    all = readdirSync('/proc').filter((n) => /^\d+$/.test(n));
  } catch {
    return [];
  }
  return all.map(Number).filter((pid) => {
    try {
      return readFileSync(`/proc/${pid}/cmdline`, 'utf8').split('\0').includes(named);
    } catch {
      // Gone while we looked.
      return false;
    }
  });
}

/** Letters of Chromium's own log that are kept. */
const LOG_LENGTH = 4000;

export async function launch(options: LaunchOptions): Promise<Browser> {
  // Left behind by a kill; they would send us to the browser that is dead.
  for (const name of ['SingletonLock', 'SingletonCookie', 'SingletonSocket'])
    rmSync(join(options.profile, name), { force: true });
  const child = spawn(
    options.executable,
    [
      '--headless=new',
      '--no-sandbox',
      '--remote-debugging-pipe',
      `--user-data-dir=${options.profile}`,
      '--no-first-run',
      '--no-default-browser-check',
      '--disable-breakpad',
      '--disable-crash-reporter',
      '--disable-gpu',
      '--disable-extensions',
      '--disable-component-update',
      '--disable-background-networking',
      '--disable-sync',
      '--disable-session-crashed-bubble',
      '--hide-crash-restore-bubble',
      '--enable-logging=stderr',
      ...(options.args ?? []),
      'about:blank',
    ],
    { stdio: ['ignore', 'ignore', 'pipe', 'pipe', 'pipe'], detached: true },
  );
  alive.add(child);
  const gone = new Promise<void>((resolve) =>
    child.once('exit', () => {
      alive.delete(child);
      resolve();
    }),
  );
  let log = '';
  child.stderr?.setEncoding('utf8').on('data', (data: string) => {
    log = (log + data).slice(-LOG_LENGTH);
  });
  const toBrowser = child.stdio[3] as Writable;
  const fromBrowser = child.stdio[4] as Readable;
  const waiting = new Map<number, { resolve(a: Answer): void; reject(e: Error): void }>();
  let next = 0;
  let killed = false;
  let session: string | undefined;

  function fail(why: string): void {
    for (const { reject } of waiting.values()) reject(new Error(why));
    waiting.clear();
  }
  function take(message: Message): void {
    if (message.id !== undefined) {
      const waiter = waiting.get(message.id);
      waiting.delete(message.id);
      if (message.error === undefined) waiter?.resolve(message.result ?? {});
      else waiter?.reject(new Error(message.error.message));
    } else if (message.method === 'Runtime.bindingCalled')
      options.onTold(String(message.params?.['payload']));
  }
  const decoder = new TextDecoder();
  let rest = '';
  fromBrowser.on('data', (data: Uint8Array) => {
    const parts = (rest + decoder.decode(data, { stream: true })).split('\0');
    rest = parts.pop() ?? '';
    for (const part of parts) take(JSON.parse(part) as Message);
  });
  for (const stream of [toBrowser, fromBrowser]) stream.on('error', () => fail('The pipe broke.'));
  child.once('exit', () => fail('The browser ended.'));
  child.once('error', (error) => fail(`The browser did not start: ${error.message}`));

  function send(method: string, params: Answer = {}, withSession = true): Promise<Answer> {
    if (killed) return Promise.reject(new Error('The browser was killed.'));
    next += 1;
    const id = next;
    return new Promise((resolve, reject) => {
      const timer = setTimeout(() => {
        waiting.delete(id);
        reject(new Error(`${method} did not answer in ${STEP_MS / 1000} s.`));
      }, STEP_MS);
      const done = <T>(act: (value: T) => void) => {
        return (value: T) => {
          clearTimeout(timer);
          act(value);
        };
      };
      waiting.set(id, { resolve: done(resolve), reject: done(reject) });
      const message = { id, method, params, ...(withSession ? { sessionId: session } : {}) };
      toBrowser.write(`${JSON.stringify(message)}\0`);
    });
  }

  async function evaluate(code: string): Promise<unknown> {
    const answer = await send('Runtime.evaluate', {
      expression: code,
      awaitPromise: true,
      returnByValue: true,
    });
    const wrong = answer['exceptionDetails'];
    if (wrong !== undefined) throw new Error(JSON.stringify(wrong).slice(0, 500));
    return (answer['result'] as Answer | undefined)?.['value'];
  }

  try {
    const { targetInfos } = await send('Target.getTargets', {}, false);
    const page = (targetInfos as { type: string; targetId: string }[]).find(
      (t) => t.type === 'page',
    );
    if (page === undefined) throw new Error('The browser has no page.');
    const attached = await send(
      'Target.attachToTarget',
      { targetId: page.targetId, flatten: true },
      false,
    );
    session = String(attached['sessionId']);
    await send('Runtime.enable');
    await send('Runtime.addBinding', { name: 'tell' });
    await send('Page.navigate', { url: options.url });
    // The page's own module sets this when it is ready.
    for (const until = Date.now() + STEP_MS; Date.now() < until;) {
      const ready = await evaluate('typeof globalThis.ordeal === "object"').catch(() => false);
      if (ready === true) break;
      await new Promise((resolve) => setTimeout(resolve, 15));
    }
  } catch (error) {
    killTree(child);
    throw error;
  }
  return {
    pid: child.pid ?? -1,
    log: () => log,
    evaluate,
    send,
    async kill() {
      killed = true;
      killTree(child);
      await gone;
      // The parent is gone first; the rest of the tree may take a moment on a
      // busy machine, and holds the database as long as it is there.
      for (const until = Date.now() + STEP_MS; Date.now() < until && treeLives(child);)
        await new Promise((resolve) => setTimeout(resolve, 5));
    },
  };
}
