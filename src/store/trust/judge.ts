import { isErasure } from '#shared/kept';
import type { Broken } from '../verify.ts';
import { BESIDE, QUIET, sealFields, textIn, type Held } from './held.ts';
import { keyStanding, KNOWS_NOBODY, type KeyStanding, type Known, type KeyUse } from './keys.ts';
import { linesOf, type WalkLine } from './lines.ts';
import type { Pool } from './pool.ts';
import { besideOf, type Beside } from './beside.ts';
import {
  guestsOf,
  namedMembers,
  NEVER_BY_GUESTS,
  vouchedMembers,
  WAYS,
  type Guests,
} from './members.ts';
import { rootOf } from './merkle.ts';
import { idWords } from './plain-words.ts';
import { sealTrouble } from './seal-form.ts';

/**
 * How a version of a walk stands.
 * sealed: a key of the walk covers everything that counts, up to the walk's own end.
 * other-key: the same, by a key that the walk was not begun with.
 * unsealed: it was signed, and no seal covers it. open: it has no end yet.
 * broken: something of it was changed, taken out, or sealed wrongly.
 */
export type Standing = 'sealed' | 'other-key' | 'unsealed' | 'open' | 'broken';

export interface Aside {
  readonly event: Held;
  readonly why: string;
}

/** What does not hold, by the hash of its event: ids can be taken by others. */
export interface Fault extends Broken {
  readonly hash: string;
}

/** One version of a walk. */
export interface Version {
  /** Names it among the versions of its walk: a part of the hash of its last event that counts. */
  readonly mark: string;
  readonly device: string;
  readonly beginning: Held;
  readonly standing: Standing;
  /** What the sheet counts, in the order of the walk. */
  readonly counts: readonly Held[];
  /** The event with which the walk declared its end. */
  readonly end: Held | null;
  readonly seal: { readonly event: Held; readonly key: KeyUse } | null;
  /** What was written after the end and never bears on the coverage, such as the last piece of sound. */
  readonly after: readonly Held[];
  readonly faults: readonly Fault[];
  /** Written after the end, by its own device. */
  readonly late: readonly Aside[];
  /** Everything of it that counts was on this device's record. */
  readonly here: boolean;
  /** Devices that it let in. */
  readonly guests: Guests;
}

/** What there is under the id of one walk. */
export interface Judged {
  readonly walk: string;
  /** The version that is shown first; null when nothing began the walk. */
  readonly version: Version | null;
  readonly others: readonly Version[];
  /** Said beside the walk by whoever reviewed or amended it. */
  readonly beside: Beside;
  /** In no version and beside none: kept, and counted nowhere. */
  readonly aside: readonly Aside[];
  /** Hashes of those of them that hang on nothing that is here. */
  readonly hanging: ReadonlySet<string>;
  /** Two versions claim to be the walk, and nothing here says which of them is. */
  readonly contested: boolean;
}

/** How carefully: hashes and signatures, or only who may write what. */
export interface JudgeOptions {
  readonly hashes: boolean;
}

/**
 * The one decision about a walk: what of all that claims to belong to it does,
 * and what its seal says of that. Restore, the sheet and `verify` all ask here.
 * Pure: the same events in any order give the same answer.
 *
 * @param pool the events of the walk, and what else is known of the chains of its devices
 */
export function judgeWalk(
  walk: string,
  pool: Pool,
  known: Known = KNOWS_NOBODY,
  options: JudgeOptions = { hashes: true },
): Judged {
  const all = pool.ofWalk(walk);
  const { lines, loose } = linesOf(walk, pool, known);
  const versions = lines
    .map((line) => versionOf(walk, line, pool, known, options))
    .sort((a, b) => better(a, b, known));
  const [version = null, ...others] = versions;
  const counted = new Set(versions.flatMap((v) => [...v.counts, ...v.after].map((e) => e.hash)));
  const late = new Set(versions.flatMap((v) => v.late.map((a) => a.event.hash)));
  const rest = all.filter((e) => !counted.has(e.hash) && !late.has(e.hash));
  const beginnings = new Set(versions.map((v) => v.beginning.hash));
  const beside = besideOf(walk, beginnings, rest, known, options);
  const said = new Set([...beside.said.map((s) => s.event.hash), ...beside.seals]);
  const begun = new Set(versions.map((v) => v.device));
  const isLoose = new Set(loose.map((e) => e.hash));
  const aside = rest
    .filter((e) => !said.has(e.hash))
    .map((event) => ({
      event,
      why: whyAside(event, isLoose.has(event.hash), begun, version, known),
    }));
  return {
    walk,
    version,
    others,
    beside,
    aside: [...(version?.late ?? []), ...aside],
    hanging: isLoose,
    contested: isContested(version, others, known),
  };
}

function versionOf(
  walk: string,
  line: WalkLine,
  pool: Pool,
  known: Known,
  options: JudgeOptions,
): Version {
  const { beginning } = line;
  const all = pool.ofWalk(walk);
  const fault = (event: Held, kind: Broken['kind'], why: string): Fault => ({
    event: event.id,
    hash: event.hash,
    device: event.device,
    walk,
    kind,
    why,
  });
  const seals = line.events.filter((e) => e.kind === 'sealed' && !isBeside(e));
  const sealsThat = (event: Held) =>
    options.hashes ? sealTrouble(sealFields(event), event.prev) : null;
  const signed = line.events.find((e) => e.kind === 'signed') ?? null;
  const closing = signed ?? seals.find((e) => sealsThat(e) === null) ?? null;
  const endAt = closing === null ? line.events.length : line.events.indexOf(closing) + 1;
  const main = line.events
    .slice(0, endAt)
    .filter((e) => e.kind !== 'sealed' && !BESIDE.has(e.kind));
  const named = namedSound(main);
  const behind = line.events.slice(endAt).filter((e) => !isBeside(e));
  const after = behind.filter((e) => QUIET.has(e.kind) && !isOtherSound(e, named));
  const late = behind
    .filter((e) => !after.includes(e) && !BESIDE.has(e.kind))
    .map((event) => ({ event, why: QUIET.has(event.kind) ? OTHER_SOUND : LATE }));

  const faults: Fault[] = [];
  for (const hole of line.holes)
    if (main.includes(hole) && !isErasure(hole.kind))
      faults.push(fault(hole, 'missing', TAKEN_OUT));
  if (options.hashes) for (const e of main) if (!e.fits) faults.push(fault(e, 'changed', CHANGED));

  const last = main.at(-1) ?? beginning;
  const lastAt = line.events.indexOf(last);
  const declared = textIn(beginning, 'key');
  const wrong: Fault[] = [];
  let seal: Version['seal'] = null;
  const guests = guestsOf(main);
  const asked = { walk, begun: beginning.hash, pool };
  let counts = guests.size === 0 ? main : [...main, ...vouchedMembers(asked, guests, known)];
  for (const event of seals) {
    if (line.events.indexOf(event) < lastAt || seal !== null) continue;
    const fields = sealFields(event);
    const covers = fields.covers === 'bad' ? null : fields.covers;
    const tries =
      covers === null || guests.size === 0
        ? [counts]
        : WAYS.map((way) => [...main, ...namedMembers(asked, guests, covers, way)]);
    const uncovered = (members: readonly Held[]) =>
      coverTrouble(fields, walk, beginning, members, declared);
    const members = tries.find((m) => uncovered(m) === null) ?? tries[0] ?? counts;
    const trouble = sealsThat(event) ?? uncovered(members);
    if (trouble !== null) {
      wrong.push(fault(event, 'seal', trouble));
      continue;
    }
    counts = members;
    const key = {
      device: beginning.device,
      publicKey: fields.publicKey,
      name: covers?.name ?? null,
    };
    seal = { event, key: { ...key, standing: keyStanding(key.device, key.publicKey, known) } };
  }
  if (seal === null) faults.push(...wrong);
  const added = counts.slice(main.length);
  if (options.hashes) for (const e of added) if (!e.fits) faults.push(fault(e, 'changed', CHANGED));
  // What hangs on behind the end makes it nobody else's.
  const here = main.every((e) => e.place === 'here');
  const isOwn = here && known.own !== null && known.own.device === beginning.device;
  const belongs =
    seal !== null &&
    (declared === null ||
      declared === seal.key.publicKey ||
      (isOwn && known.own?.keys.has(seal.key.publicKey) === true));
  return {
    mark: `${beginning.hash.slice(0, MARK)}${last.hash.slice(0, MARK)}`,
    device: beginning.device,
    beginning,
    standing: standingOf(faults, seal, belongs, signed !== null),
    counts,
    end: closing,
    seal,
    after: [...after, ...seals.filter((s) => !after.includes(s)), ...sealsOfMembers(counts, all)],
    faults,
    late,
    here,
    guests,
  };
}

/** Which hash each piece of sound has, by these events. */
function namedSound(events: readonly Held[]): ReadonlyMap<string, string | null> {
  const named = new Map<string, string | null>();
  for (const e of events) if (e.kind === 'sound-kept') named.set(pieceIn(e), textIn(e, 'hash'));
  return named;
}

/** Nobody puts another sound in the place of one that counts by naming it again behind the end. */
function isOtherSound(e: Held, named: ReadonlyMap<string, string | null>): boolean {
  if (e.kind !== 'sound-kept') return false;
  const hash = named.get(pieceIn(e));
  return hash !== undefined && hash !== textIn(e, 'hash');
}

function pieceIn(e: Held): string {
  const chunk: unknown = Reflect.get(Object(e.raw['what']), 'chunk');
  return `${textIn(e, 'recording') ?? ''} ${String(chunk)}`;
}

/** Seals with which devices that were let in vouched for what they added. */
function sealsOfMembers(counts: readonly Held[], all: readonly Held[]): readonly Held[] {
  const device = counts[0]?.device;
  const others = new Set(counts.map((e) => e.device).filter((d) => d !== device));
  if (others.size === 0) return [];
  return all.filter((e) => e.kind === 'sealed' && others.has(e.device) && !isBeside(e));
}

/** Hex digits of each of the two hashes that name a version. */
const MARK = 8;
const LATE = 'It was written after the end of the walk.';
const OTHER_SOUND = 'It names a piece of sound that the walk names otherwise.';
const TAKEN_OUT = 'The event before it is missing: a part of this walk was taken out.';
const CHANGED = 'It was changed after it was written: its hash does not match.';

const isBeside = (e: Held): boolean => {
  if (e.kind !== 'sealed') return false;
  const { covers } = sealFields(e);
  return covers !== null && covers !== 'bad' && covers.part === 'beside';
};

function coverTrouble(
  { covers, publicKey }: ReturnType<typeof sealFields>,
  walk: string,
  beginning: Held,
  counts: readonly Held[],
  declared: string | null,
): string | null {
  if (covers === 'bad') return 'What the seal covers cannot be read.';
  if (covers === null)
    return declared === null || declared === publicKey
      ? null
      : 'The seal is of another key than the one that the walk was begun with.';
  if (covers.walk !== walk || covers.begun !== beginning.hash)
    return 'The seal is of another walk.';
  if (covers.events !== counts.length)
    return `The seal covers ${covers.events} events, and ${counts.length} are here.`;
  return covers.root === rootOf(counts.map((e) => e.hash))
    ? null
    : 'The seal covers other events than those that are here.';
}

function standingOf(
  faults: readonly Fault[],
  seal: Version['seal'],
  belongs: boolean,
  signed: boolean,
): Standing {
  if (faults.length > 0) return 'broken';
  if (seal !== null) return belongs ? 'sealed' : 'other-key';
  return signed ? 'unsealed' : 'open';
}

const STANDINGS: readonly Standing[] = ['sealed', 'other-key', 'unsealed', 'open', 'broken'];
const KEYS: readonly KeyStanding[] = ['own', 'compared', 'met', 'new', 'changed'];

/**
 * Which version is shown first. What this device wrote itself; then what is
 * sealed, by the key that is known best; then what was here before, because who
 * comes later has to explain itself; then the longer one; then by hash.
 */
function better(a: Version, b: Version, known: Known): number {
  const own = (v: Version) => (v.here && v.device === known.own?.device ? 0 : 1);
  const key = (v: Version) => (v.seal === null ? KEYS.length : KEYS.indexOf(v.seal.key.standing));
  return (
    own(a) - own(b) ||
    STANDINGS.indexOf(a.standing) - STANDINGS.indexOf(b.standing) ||
    key(a) - key(b) ||
    Number(b.here) - Number(a.here) ||
    b.counts.length - a.counts.length ||
    (a.mark < b.mark ? -1 : 1)
  );
}

function isContested(first: Version | null, others: readonly Version[], known: Known): boolean {
  if (first === null || others.length === 0) return false;
  if (first.here && first.device === known.own?.device) return false;
  const rivals = others.filter((o) => o.standing !== 'broken');
  if (rivals.length === 0) return false;
  if (first.standing !== 'sealed') return true;
  if (first.seal?.key.standing === 'compared') return false;
  // The same beginning names one key: what that key has not sealed is no rival.
  const declared = textIn(first.beginning, 'key');
  return rivals.some((o) => declared === null || o.beginning.hash !== first.beginning.hash);
}

function whyAside(
  event: Held,
  loose: boolean,
  begun: ReadonlySet<string>,
  version: Version | null,
  known: Known,
): string {
  if (known.own?.device === event.device && event.place !== 'here')
    return 'It claims to come from this device, which has not written it.';
  if (event.kind === 'walk-begun') return 'Another beginning of this walk came before it.';
  if (loose) return 'It hangs on nothing: the event before it is not here.';
  if (begun.size === 0) return 'The beginning of its walk is missing.';
  if (begun.has(event.device)) return 'It is in another version of this walk.';
  if (version?.guests.has(event.device) !== true)
    return `It is of device ${idWords(event.device)}, which does not belong to this walk.`;
  if (NEVER_BY_GUESTS.has(event.kind))
    return 'Its device was let in to add what it saw; only the one that began the walk says this.';
  return version.end === null
    ? 'Its device was let in and has not sealed it yet.'
    : 'Its device was let in, and it was brought here after the signature, which does not cover it.';
}
