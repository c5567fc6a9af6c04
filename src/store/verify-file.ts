import { sha256Hex } from './canonical.ts';
import { editionOf } from './catalogues.ts';
import { readJson } from './json.ts';
import { inWords, MAX_JSON_TOTAL, MAX_REFUSALS_SHOWN } from './limits.ts';
import { openBackup, readLines, type Damaged, type Refused } from './read-backup.ts';
import { fromBase64Url } from './seal.ts';
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
 */
export async function verifyFile(bytes: Uint8Array): Promise<FileVerdict> {
  return bytes[0] === 0x50 && bytes[1] === 0x4b ? verifyZip(bytes) : verifyText(bytes);
}

async function verifyZip(bytes: Uint8Array): Promise<FileVerdict> {
  const opened = await openBackup(bytes);
  if (!opened.ok) return { ok: false, lines: [opened.error], broken: null };
  const { backup } = opened;
  const { manifest, damaged } = backup;
  const refused = [...backup.refused];
  for (const { path, edition, value } of backup.catalogues)
    if (editionOf(value) !== edition)
      refused.push({ entry: path, why: 'It is another edition than its name says.' });
  const told = soundHashes(backup.events);
  let chunks = 0;
  for (const entry of backup.sounds) {
    const data = await backup.sound(entry);
    if (!(data instanceof Uint8Array)) refused.push(data);
    else if (told.get(`${entry.recording} ${entry.chunk}`) !== sha256Hex(data))
      refused.push({ entry: entry.path, why: 'No event names this sound by its hash.' });
    else chunks += 1;
  }
  await backup.close();
  const verdict = verifyEvents(backup.events);
  const ends = cutEnds(verdict, manifest.chains, damaged);
  return verdictInWords({
    verdict,
    damaged,
    refused: [...refused, ...ends],
    more: [
      `Backup of format ${manifest.v}, made ${new Date(manifest.made).toISOString()} by device ${manifest.device}.`,
      `${count(backup.catalogues.length, 'catalogue')}, ${count(chunks, 'chunk')} of sound.`,
    ],
  });
}

function soundHashes(events: readonly unknown[]): ReadonlyMap<string, string> {
  const told = new Map<string, string>();
  for (const event of events) {
    const what: unknown = (event as { what?: unknown } | null)?.what;
    if (typeof what !== 'object' || what === null) continue;
    const { kind, recording, chunk, hash } = what as Record<string, unknown>;
    if (kind === 'sound-kept' && typeof hash === 'string')
      told.set(`${String(recording)} ${String(chunk)}`, hash);
  }
  return told;
}

/** The manifest says where each chain ends: a cut end leaves no hole that a link could show. */
function cutEnds(
  verdict: Verdict,
  chains: readonly { device: string; last: string; head: string; events: number; whole: boolean }[],
  damaged: readonly Damaged[],
): Refused[] {
  const out: Refused[] = [];
  for (const chain of chains) {
    const found = verdict.chains.find((c) => c.device === chain.device);
    if (found?.head !== chain.head && !damaged.some((d) => d.id === chain.last))
      out.push({
        entry: chain.last,
        why: `The log of device ${chain.device} should end with this event, and does not.`,
      });
    else if (
      found !== undefined &&
      (found.events !== chain.events || (chain.whole && !found.whole))
    )
      out.push({
        entry: `device ${chain.device}`,
        why: `Its log should have ${chain.events} events here, and has ${found.events}.`,
      });
  }
  return out;
}

function verifyText(bytes: Uint8Array): FileVerdict {
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
  return verdictInWords({ verdict: verifyEvents(events), damaged, refused, more: [] });
}

function verdictInWords(of: {
  verdict: Verdict;
  damaged: readonly Damaged[];
  refused: readonly Refused[];
  more: readonly string[];
}): FileVerdict {
  const { verdict, damaged, refused } = of;
  const unread = damaged.find((d) => d.id !== null)?.id ?? null;
  const ok = verdict.ok && refused.length === 0 && damaged.length === 0;
  // A line that cannot be read is the cause of the hole that its successor shows.
  const broken =
    verdict.broken !== null && (verdict.broken.kind !== 'missing' || unread === null)
      ? verdict.broken.event
      : unread;
  const whyOf = (event: string) =>
    verdict.faults.find((f) => f.event === event)?.why ?? 'It cannot be read any more.';
  return {
    ok,
    broken,
    lines: [
      ...of.more,
      ...verdict.chains.map(
        (c) =>
          `Device ${c.device}: ${count(c.events, 'event')}${c.whole ? ', from its first one on' : ''}.`,
      ),
      ...verdict.seals.map(
        (s) => `Walk ${s.walk ?? 'none'}: sealed with key ${fingerprint(s.publicKey)}.`,
      ),
      ...verdict.gaps.map(
        (g) =>
          `Before event ${g.before} a part of the log of device ${g.device} is not in this file.`,
      ),
      ...refused.slice(0, MAX_REFUSALS_SHOWN).map((r) => `Does not hold: ${r.entry}. ${r.why}`),
      ...(refused.length > MAX_REFUSALS_SHOWN
        ? [`Does not hold: ${refused.length - MAX_REFUSALS_SHOWN} more.`]
        : []),
      ...(broken === null ? [] : [`First broken event: ${broken}. ${whyOf(broken)}`]),
      ok
        ? 'Every hash, every link and every seal holds. Whose key it is, the person who holds the device has to say.'
        : 'This file does not verify.',
    ],
  };
}

const count = (n: number, noun: string) => `${n} ${noun}${n === 1 ? '' : 's'}`;

/** Short enough to read out: the first 16 hex digits of the SHA-256 of the raw key. */
function fingerprint(publicKey: string): string {
  const raw = fromBase64Url(publicKey);
  return raw === null ? publicKey : (sha256Hex(raw).slice(0, 16).match(/..../g) ?? []).join(' ');
}
