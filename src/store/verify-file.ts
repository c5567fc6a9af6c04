import { isErasure, PICTURE_CHUNK } from '#shared/kept';
import { sha256Hex } from './canonical.ts';
import { editionOf } from './catalogues.ts';
import { readJson } from './json.ts';
import { inWords, MAX_JSON_TOTAL, MAX_REFUSALS_SHOWN } from './limits.ts';
import { openBackup, readLines, type Damaged, type Refused } from './read-backup.ts';
import { heldOfFile, judgeFile, knownInFile } from './trust/file.ts';
import { erasedElsewhere, namesBytes } from './trust/erased.ts';
import { wordsOfKey } from './trust/fingerprint.ts';
import { judgeWalk } from './trust/judge.ts';
import { poolOf } from './trust/pool.ts';
import { idWords, oneLine } from './trust/plain-words.ts';
import { besideLines, sentencesOf } from './trust/sentences.ts';
import { verifyEvents, type Verdict } from './verify.ts';

/** What `talkround verify FILE` prints, and whether everything holds. */
export interface FileVerdict {
  readonly ok: boolean;
  readonly lines: readonly string[];
  /** Id of the first event that does not hold. */
  readonly broken: string | null;
}

/**
 * Verifies a backup (zip), or events alone: JSON lines, or a JSON array of
 * events. Never throws for what is in the file.
 *
 * @param expected fingerprints in words: when there are any, a walk that none of
 *   these keys has sealed does not hold
 */
export async function verifyFile(
  bytes: Uint8Array,
  expected: readonly string[] = [],
): Promise<FileVerdict> {
  const zip = bytes[0] === 0x50 && bytes[1] === 0x4b;
  const verdict = zip ? await verifyZip(bytes, expected) : verifyText(bytes, expected);
  return { ...verdict, lines: verdict.lines.map(oneLine) };
}

const NO_LIST =
  'These are events alone: whether something was left out after them cannot be told from the file.';

async function verifyZip(bytes: Uint8Array, expected: readonly string[]): Promise<FileVerdict> {
  const opened = await openBackup(bytes);
  if (!opened.ok) return { ok: false, lines: [opened.error], broken: null };
  const { backup } = opened;
  const { manifest, damaged } = backup;
  const refused = [...backup.refused];
  for (const { path, edition, value } of backup.catalogues)
    if (editionOf(value) !== edition)
      refused.push({ entry: path, why: 'It is another edition than its name says.' });
  const told = soundHashes(backup.events);
  const found = { sound: 0, picture: 0 };
  for (const entry of backup.sounds) {
    const data = await backup.sound(entry);
    if (!(data instanceof Uint8Array)) refused.push(data);
    else if (!told.has(`${entry.recording} ${entry.chunk} ${sha256Hex(data)}`))
      refused.push({ entry: entry.path, why: `No event names this ${entry.kind} by its hash.` });
    else found[entry.kind] += 1;
  }
  await backup.close();
  const verdict = verifyEvents(backup.events);
  const judged = judgeFile(backup);
  return verdictInWords({
    verdict,
    damaged,
    events: backup.events,
    expected,
    refused: [...refused, ...judged.refused],
    more: [
      `Backup of format ${manifest.v}, made ${new Date(manifest.made).toISOString()} by device ${idWords(manifest.device)}.`,
      `${count(backup.catalogues.length, 'catalogue')}, ${count(found.sound, 'chunk')} of sound${found.picture === 0 ? '' : `, ${count(found.picture, 'picture')}`}.`,
      ...judged.notes,
    ],
  });
}

function soundHashes(events: readonly unknown[]): ReadonlySet<string> {
  const told = new Set<string>();
  for (const event of events) {
    const what: unknown = (event as { what?: unknown } | null)?.what;
    if (typeof what !== 'object' || what === null) continue;
    const { kind, recording, chunk, picture, hash } = what as Record<string, unknown>;
    if (kind === 'picture-kept' && typeof hash === 'string')
      told.add(`${String(picture)} ${PICTURE_CHUNK} ${hash}`);
    if (kind === 'sound-kept' && typeof hash === 'string')
      told.add(`${String(recording)} ${String(chunk)} ${hash}`);
  }
  return told;
}

function verifyText(bytes: Uint8Array, expected: readonly string[]): FileVerdict {
  if (bytes.length > MAX_JSON_TOTAL)
    return {
      ok: false,
      lines: [`This file is larger than ${inWords(MAX_JSON_TOTAL)}, which is the limit.`],
      broken: null,
    };
  const text = new TextDecoder().decode(bytes);
  const events: unknown[] = [];
  const damaged: Damaged[] = [];
  const refused: Refused[] = [];
  if (text.trimStart().startsWith('[')) {
    const json = readJson(text, MAX_JSON_TOTAL);
    if (!json.ok) return { ok: false, lines: [`This file: ${json.error}`], broken: null };
    if (Array.isArray(json.value)) events.push(...(json.value as unknown[]));
  } else readLines(text, 'events', { events, damaged, refused });
  if (events.length === 0)
    return {
      ok: false,
      lines: ['There is no event in this file. It takes a backup (zip) or events as JSON lines.'],
      broken: null,
    };
  return verdictInWords({
    verdict: verifyEvents(events),
    damaged,
    events,
    expected,
    refused,
    more: [NO_LIST],
  });
}

function verdictInWords(of: {
  verdict: Verdict;
  damaged: readonly Damaged[];
  events: readonly unknown[];
  expected: readonly string[];
  refused: readonly Refused[];
  more: readonly string[];
}): FileVerdict {
  const { verdict, damaged, refused } = of;
  const unread = damaged.find((d) => d.id !== null)?.id ?? null;
  const walks = judgeWalks(of.events, of.expected);
  const sound = verdict.ok && refused.length === 0 && damaged.length === 0;
  const ok = sound && walks.every((w) => w.ok);
  // A line that cannot be read is the cause of the hole that its successor shows.
  const broken =
    verdict.broken !== null && (verdict.broken.kind !== 'missing' || unread === null)
      ? verdict.broken.event
      : unread;
  const whyOf = (event: string) =>
    verdict.faults.find((f) => f.event === event)?.why ?? 'It cannot be read any more.';
  const sealed = walks.filter((w) => w.sealed).length;
  return {
    ok,
    broken,
    lines: [
      ...of.more,
      ...verdict.chains.map(
        (c) =>
          `Device ${idWords(c.device)}: ${count(c.events, 'event')}${c.whole ? ', from its first one on' : ''}.`,
      ),
      ...walks.flatMap((w) => w.lines),
      ...verdict.gaps.map(
        (g) =>
          `Before event ${idWords(g.before)} a part of the log of device ${idWords(g.device)} is not in this file.`,
      ),
      ...refused.slice(0, MAX_REFUSALS_SHOWN).map((r) => `Does not hold: ${r.entry}. ${r.why}`),
      ...(refused.length > MAX_REFUSALS_SHOWN
        ? [`Does not hold: ${refused.length - MAX_REFUSALS_SHOWN} more.`]
        : []),
      ...(broken === null ? [] : [`First broken event: ${idWords(broken)}. ${whyOf(broken)}`]),
      `${count(sealed, 'walk')} of ${walks.length} sealed and whole.`,
      ok
        ? 'Nothing that is here was changed. Whose key it is, the person who holds the device has to say: compare the words.'
        : 'This file does not verify.',
    ],
  };
}

interface WalkSaid {
  readonly ok: boolean;
  readonly sealed: boolean;
  readonly lines: readonly string[];
}

/** Each walk by the one decision that the app goes by, in words. */
function judgeWalks(events: readonly unknown[], expected: readonly string[]): readonly WalkSaid[] {
  const all = heldOfFile(events);
  const known = knownInFile(all);
  const pool = poolOf(all);
  const erased = all.filter((e) => isErasure(e.kind));
  return pool.walks.map((walk) => {
    const judged = judgeWalk(walk, pool, known);
    const { whole, text, remarks } = sentencesOf(judged);
    const { version } = judged;
    const key = version?.seal?.key.publicKey;
    const strange =
      expected.length > 0 && (key === undefined || !expected.includes(wordsOfKey(key)));
    const plain = version !== null && (whole || version.standing === 'open');
    const elsewhere =
      version === null || !namesBytes(version) ? [] : erasedElsewhere(walk, version, erased);
    const beside = judged.beside.said.every((s) => s.holds);
    return {
      ok: plain && beside && remarks.length === 0 && !strange,
      sealed: whole && !strange,
      lines: [
        `Walk ${idWords(walk)}: ${text}`,
        ...(strange
          ? [`Walk ${idWords(walk)}: it is not sealed by the key that was asked for.`]
          : []),
        ...[...remarks, ...besideLines(judged), ...elsewhere].map(
          (line) => `Walk ${idWords(walk)}: ${line}`,
        ),
      ],
    };
  });
}

const count = (n: number, noun: string) => `${n} ${noun}${n === 1 ? '' : 's'}`;
