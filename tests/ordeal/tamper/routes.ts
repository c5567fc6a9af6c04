import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Event } from '#shared/event';
import { memoryStore, type Store } from '#store';
import { main as cli } from '../../../src/cli/main.ts';
import { openBackup } from '../../../src/store/read-backup.ts';
import { sha256Hex } from '../../../src/store/canonical.ts';
import { countingWorld } from '../../store/help.ts';
import type { Specimen } from './specimen.ts';

/**
 * What came of one attack on one way in. refused: it was said to be wrong.
 * shown: what is different is in the words that somebody reads. silent: neither.
 * same: nothing that anybody reads of the file was changed by it.
 */
export type Outcome = 'refused' | 'shown' | 'silent' | 'same';

/** Everything that is read of a file, as one text: two files with the same are the same to the record. */
export async function contentOf(file: Uint8Array): Promise<string> {
  const opened = await openBackup(file);
  if (!opened.ok) return `not opened: ${opened.error}`;
  const { backup } = opened;
  const sounds: string[] = [];
  for (const entry of backup.sounds) {
    const data = await backup.sound(entry);
    sounds.push(data instanceof Uint8Array ? sha256Hex(data) : data.why);
  }
  await backup.close();
  const { manifest, events, catalogues, damaged, refused, sign } = backup;
  return JSON.stringify({ manifest, events, catalogues, damaged, refused, sounds, sign });
}

/** A terminal with the command `talkround verify` in it. */
export function terminal() {
  const folder = mkdtempSync(join(tmpdir(), 'talkround-tamper-'));
  const path = join(folder, 'backup.zip');
  return {
    async verify(file: Uint8Array): Promise<{ code: number; text: string }> {
      writeFileSync(path, file);
      let text = '';
      const write = process.stdout.write.bind(process.stdout);
      process.stdout.write = (chunk: string | Uint8Array) => {
        text += String(chunk);
        return true;
      };
      try {
        return { code: await cli(['verify', path]), text };
      } finally {
        process.stdout.write = write;
      }
    },
    close: () => rmSync(folder, { recursive: true, force: true }),
  };
}

export type Terminal = ReturnType<typeof terminal>;

/**
 * By `talkround verify`. An answer of 0 is shown only when its words differ from
 * those for the honest file, and silent when they call anything sealed and whole
 * by the honest key that is not what that key has sealed.
 */
export function judgeVerify(
  honest: { code: number; text: string },
  got: { code: number; text: string },
): Outcome {
  if (got.code !== 0) return 'refused';
  if (got.text === honest.text) return 'silent';
  const key = keyIn(honest.text);
  const events = /sealed and whole: (\d+) events/;
  const claims = got.text.includes('This walk is sealed and whole') && keyIn(got.text) === key;
  return claims && events.exec(got.text)?.[1] !== events.exec(honest.text)?.[1]
    ? 'silent'
    : 'shown';
}

function keyIn(text: string): string {
  return /sealed and whole: .*?“((?:\w+ ){7}\w+)”/.exec(text)?.[1] ?? '';
}

/** What a device shows of a walk after files were brought in. */
export interface Shown {
  readonly ok: boolean;
  readonly text: string;
  readonly whole: boolean;
  /** Everything that the sheet says of the seal. */
  readonly sheet: string;
  readonly counts: readonly string[];
  /** Steps of squawks that are gone by, and the sound that the walk plays, by their hashes. */
  readonly bears: readonly string[];
  /** Words of findings that are to be seen, in this version or another. */
  readonly findings: readonly string[];
}

export async function brought(
  store: Store,
  walk: string,
  files: readonly Uint8Array[],
): Promise<Shown> {
  let ok = true;
  const text: string[] = [];
  for (const file of files) {
    const restored = await store.restore(file);
    ok &&= restored.ok;
    text.push(...restored.text);
  }
  const trust = await store.judged(walk);
  const others = await Promise.all(trust.versions.map((v) => store.judged(v.name)));
  return {
    ok,
    text: text.join('\n'),
    whole: trust.verdict.whole,
    sheet: [
      trust.verdict.text,
      ...trust.verdict.remarks,
      ...trust.besideLines,
      ...trust.versions.map((v) => v.text),
    ].join('\n'),
    counts: trust.counts.map((e) => e.hash),
    bears: [
      ...(await store.squawkEvents()).map((e) => e.hash),
      ...(await soundIn(store, [...trust.counts, ...trust.after])),
    ],
    findings: [trust, ...others].flatMap((t) => cracksIn(t.counts)),
  };
}

async function soundIn(store: Store, events: readonly Event[]): Promise<string[]> {
  const named = events.flatMap(({ what }) => (what.kind === 'sound-kept' ? [what.recording] : []));
  const kept = await Promise.all([...new Set(named)].map((r) => store.sound(r, events)));
  return kept.flatMap(({ chunks }) => chunks.map((c) => sha256Hex(new Uint8Array(c.data))));
}

function cracksIn(events: readonly Event[]): string[] {
  return events.flatMap((e) =>
    e.what.kind === 'heard' && e.what.heard.text.includes('crack') ? [e.what.heard.text] : [],
  );
}

/** By bringing in, and by what the sheet says afterwards. */
export function judgeBrought(honest: Shown, got: Shown): Outcome {
  const same = got.counts.join() === honest.counts.join();
  // Whole, by the honest key, and something else counts.
  if (got.whole && !same && keyIn(got.sheet) === keyIn(honest.sheet)) return 'silent';
  if (!got.ok) return 'refused';
  // Another sound or another step of a squawk under a sheet that says no other word.
  if (got.sheet === honest.sheet && got.bears.join() !== honest.bears.join()) return 'silent';
  return got.text === honest.text && got.sheet === honest.sheet ? 'silent' : 'shown';
}

/** On the device that made the walk nothing may change at all, and what was tried is told. */
export function judgeOwner(before: Shown, got: Shown): Outcome {
  if (got.counts.join() !== before.counts.join() || !got.whole) return 'silent';
  if (!got.ok) return 'refused';
  return got.text === before.text && got.sheet === before.sheet ? 'silent' : 'shown';
}

let seed = 2000;
export async function stranger(): Promise<Store> {
  seed += 1;
  return memoryStore(countingWorld(seed), { device: `receiver-${seed}` });
}

/** A finding that was in an honest file that was brought in has to be seen somewhere (R4). */
export function keepsFinding(
  specimen: Specimen,
  files: readonly Uint8Array[],
  got: Shown,
): boolean {
  return !files.includes(specimen.file) || got.findings.length > 0;
}
