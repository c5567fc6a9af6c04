import type { Event, Happening } from '#shared/event';
import { sha256Hex } from '../../../src/store/canonical.ts';
import { chain, hashOf, type Raw } from '../../../src/store/chain.ts';
import { MAX_LINES } from '../../../src/store/trust/lines.ts';
import { forger, oldWalk, words, type Forger } from '../../store/attack.ts';
import { pack, type Mending, type Parts, type Specimen } from './specimen.ts';

/** One thing that somebody does to a file, and the files that come of it, in the order in which they are brought in. */
export interface Attack {
  readonly kind: string;
  readonly name: string;
  readonly files: () => Promise<readonly Uint8Array[]>;
  /** Where the files are brought in: on a device that knows nothing, or on the one that made the walk. */
  readonly where: 'stranger' | 'owner';
}

/** Every attack on a specimen but the single bytes, which are too many for a list. */
export async function attacksOn(specimen: Specimen): Promise<readonly Attack[]> {
  const mallory = await forger();
  const { parts } = specimen;
  const events = parts.events as readonly Event[];
  const mendings: readonly [string, Mending][] = [
    ['list stripped of its signature', { kind: 'old' }],
    ['list signed by a stranger', { kind: 'signed', key: mallory.key, device: mallory.device }],
    ['list signed by a stranger in the name of the maker', { kind: 'signed', key: mallory.key }],
  ];
  const attacks: Attack[] = [];
  /** The events changed, packed in every way in which a list can be mended. */
  const add = (
    kind: string,
    name: string,
    change: () => Promise<Partial<Parts>> | Partial<Parts>,
    where: Attack['where'] = 'stranger',
  ) => {
    // The maker's own record does not believe a list, however it was mended.
    for (const [how, mending] of where === 'owner' ? mendings.slice(0, 1) : mendings)
      attacks.push({
        kind,
        name: `${name}; ${how}`,
        where,
        files: async () => [await pack({ ...parts, ...(await change()) }, mending)],
      });
  };

  for (let n = 1; n < events.length; n += 1)
    add('cut', `the last ${n} events cut off`, () => ({ events: events.slice(0, -n) }));
  events.forEach((e, i) =>
    add('cut', `event ${i} (${e.what.kind}) taken out`, () => ({
      events: events.filter((_, j) => j !== i),
    })),
  );
  for (let i = 0; i + 1 < events.length; i += 1)
    add('swap', `events ${i} and ${i + 1} exchanged, every hash made again`, () => ({
      events: rehashed(swapped(events, i)),
    }));
  events.forEach((e, i) =>
    add('replay', `event ${i} (${e.what.kind}) said once more at the end`, () => ({
      events: [...events, ...replayed(e, events.at(-1), mallory)],
    })),
  );
  reseals(specimen, mallory, add);
  foreign(specimen, mallory, add);
  add('sound', 'a piece of sound and its entry gone', () => ({ sounds: [] }));
  add('sound', 'another sound in its place', () => ({
    sounds: parts.sounds.map((s) => ({ ...s, data: s.data.map((b) => b ^ 255) })),
  }));
  behind(specimen, mallory, add);
  many(specimen, mallory, add);
  attacks.push(...forks(specimen, mallory));
  return attacks;
}

type Add = (
  kind: string,
  name: string,
  change: () => Promise<Partial<Parts>> | Partial<Parts>,
  where?: Attack['where'],
) => void;

/** Each event that counts dropped, or the crack made good, and all of it hashed and sealed again. */
function reseals({ parts }: Specimen, mallory: Forger, add: Add): void {
  const events = parts.events as readonly Event[];
  const ways = [
    ['sealed by a new key', {}],
    ['sealed by a new key that the beginning names', { declare: true }],
    ['not sealed', { sealed: false }],
    ['of a made-up device', { device: mallory.device, declare: true }],
  ] as const;
  for (const [way, options] of ways) {
    add('re-seal', `nothing changed, ${way}`, async () => ({
      events: await mallory.rewrite(events, (e) => e, options),
    }));
    add('re-seal', `the crack made good, ${way}`, async () => ({
      events: await mallory.rewrite(events, madeGood, options),
    }));
    events.forEach((gone, i) => {
      if (gone.what.kind === 'sealed' || gone.what.kind === 'walk-begun') return;
      add('re-seal', `event ${i} (${gone.what.kind}) dropped, ${way}`, async () => ({
        events: await mallory.rewrite(events, (e) => (e.id === gone.id ? null : e), options),
      }));
    });
  }
  add('re-seal', 'the crack dropped, as older versions wrote it', async () => ({
    events: await oldWalk(
      events.filter((e) => !isCrack(e)),
      mallory.key,
    ),
  }));
}

/** A made-up device speaks in a walk that it has nothing to do with. */
function foreign(specimen: Specimen, mallory: Forger, add: Add): void {
  const { walk, parts } = specimen;
  const events = parts.events as readonly Event[];
  const crack = events.find(isCrack);
  const said: readonly Happening[] = [
    {
      kind: 'stated',
      statement: {
        kind: 'retraction',
        v: 1,
        id: 'forged-1',
        heard: crack?.what.kind === 'heard' ? crack.what.heard.id : '',
        span: { from: 0, to: 1, words: 'no' },
        why: [],
        of: 'any',
      },
    },
    { kind: 'finding-placed', statement: 's', check: 'drive-belts', instances: [], by: 'M.' },
    { kind: 'decided', decision: 'fly', by: 'Mallory', authority: null, note: null },
    { kind: 'signed', name: 'Mallory', certificate: null },
    { kind: 'finished', open: [], how: 'said' },
    { kind: 'let-in', device: mallory.device, publicKey: mallory.key.publicKey, by: null },
    { kind: 'amendment', by: 'Mallory', note: 'There was no crack.' },
    {
      kind: 'reviewed',
      by: 'Mallory',
      note: '',
      of: { kind: 'standing', check: 'drive-belts', standing: 'spoken' },
    },
    { kind: 'squawk', squawk: 's1', step: { step: 'closed', by: 'Mallory', note: null } },
    { kind: 'sound-erased', recording: parts.sounds[0]?.recording ?? '', why: 'asked for' },
  ];
  const places: readonly [string, { device?: string; prev?: string | null }][] = [
    ['of a made-up device', {}],
    [
      'behind the end, in the name of the maker',
      { device: specimen.device, prev: events.at(-1)?.hash ?? null },
    ],
    [
      'beside the end, in the name of the maker',
      { device: specimen.device, prev: events.at(-2)?.hash ?? null },
    ],
    [
      'hung on nothing, in the name of the maker',
      { device: specimen.device, prev: 'f'.repeat(64) },
    ],
    ...byGuest(specimen),
  ];
  for (const what of said)
    for (const [place, as] of places)
      for (const where of ['stranger', 'owner'] as const) {
        const forged = () => mallory.chain([{ walk, ...what }], as);
        add(
          'foreign',
          `"${what.kind}" ${place}, with the walk`,
          () => ({ events: [...events, ...forged()] }),
          where,
        );
        add('foreign', `"${what.kind}" ${place}, alone`, () => ({ events: forged() }), where);
      }
}

/** What may follow a signature, written by somebody else in the name of the maker, with all that goes with it. */
function behind(specimen: Specimen, mallory: Forger, add: Add): void {
  const { walk, parts } = specimen;
  const events = parts.events as readonly Event[];
  const prev = events.at(-1)?.hash ?? null;
  const kept = events.find((e) => e.what.kind === 'sound-kept')?.what;
  if (kept?.kind !== 'sound-kept') return;
  const forged = (what: Happening) =>
    mallory.chain([{ walk, ...what }], { device: specimen.device, prev });
  const other = (chunk: number) =>
    parts.sounds.map((s) => ({ ...s, chunk, data: s.data.map((b) => b ^ 255) }));
  for (const [name, chunk] of [
    ['the same piece of sound, otherwise', kept.chunk],
    ['one more piece of sound', kept.chunk + 7],
  ] as const) {
    const sounds = other(chunk);
    const hash = sha256Hex(sounds[0]?.data ?? new Uint8Array());
    const said: Happening = { ...kept, chunk, hash };
    const more = chunk === kept.chunk ? sounds : [...parts.sounds, ...sounds];
    add('behind', `${name}, behind the end in the name of the maker`, () => ({
      events: [...events, ...forged(said)],
      sounds: more,
    }));
  }
  const quiet: readonly Happening[] = [
    { kind: 'spoken', text: 'All is good.', from: 600, to: 601 },
    { kind: 'replied', tone: 'understood', text: '', how: 'none', from: 600, answers: null },
    { kind: 'brought-back', events: 1, chunks: 0, damaged: 0, key: 'new' },
    { kind: 'squawk', squawk: 's1', step: { step: 'closed', by: 'P. Heron', note: null } },
  ];
  for (const what of quiet)
    add('behind', `"${what.kind}" behind the end in the name of the maker`, () => ({
      events: [...events, ...forged(what)],
    }));
}

/** As many beginnings of the walk as are told apart, and one more, with ids from long ago. */
function many({ device, walk, parts }: Specimen, mallory: Forger, add: Add): void {
  const events = parts.events as readonly Event[];
  const begun = events.find((e) => e.walk === walk && e.what.kind === 'walk-begun');
  if (begun?.what.kind !== 'walk-begun') throw new Error('The walk was not begun.');
  const { what } = begun;
  for (const by of [mallory.device, device])
    for (const n of [MAX_LINES, MAX_LINES + 1]) {
      const forged = () =>
        Array.from({ length: n }, (_, i) => {
          const pilot = `M. ${i}`;
          const key = mallory.key.publicKey;
          const id = `00000000-0001-7000-8000-${String(i).padStart(12, '0')}`;
          const raw: Raw = { ...begun, id, device: by, prev: null, what: { ...what, key, pilot } };
          return { ...raw, hash: hashOf(raw) } as unknown as Event;
        });
      const whose = by === device ? 'the maker' : 'a made-up device';
      for (const where of ['stranger', 'owner'] as const) {
        const name = `${n} beginnings in the name of ${whose}`;
        add('many', `${name}, with the walk`, () => ({ events: [...forged(), ...events] }), where);
        add('many', `${name}, alone`, () => ({ events: forged() }), where);
      }
    }
}

/** Places in the chain of a device that the walk has let in: behind, between and beside what it wrote. */
function byGuest({
  guest,
  parts,
}: Specimen): readonly [string, { device?: string; prev?: string | null }][] {
  if (guest === undefined) return [];
  const theirs = (parts.events as readonly Event[]).filter((e) => e.device === guest);
  const name = 'in the name of the device that was let in';
  return [
    [`behind the last, ${name}`, { device: guest, prev: theirs.at(-1)?.hash ?? null }],
    [`beside the second, ${name}`, { device: guest, prev: theirs[0]?.hash ?? null }],
    [`hung on nothing, ${name}`, { device: guest, prev: 'f'.repeat(64) }],
  ];
}

/** Two versions of one walk, brought in one after the other, in both orders. */
function forks({ parts, file }: Specimen, mallory: Forger): readonly Attack[] {
  const events = parts.events as readonly Event[];
  const forgeries: readonly [string, () => Promise<readonly Event[]>][] = [
    [
      'the crack dropped, a new key declared',
      () => mallory.rewrite(events, dropCrack, { declare: true }),
    ],
    ['the crack dropped, a new key', () => mallory.rewrite(events, dropCrack)],
    ['the crack dropped, not sealed', () => mallory.rewrite(events, dropCrack, { sealed: false })],
    [
      'the crack dropped, a made-up device',
      () => mallory.rewrite(events, dropCrack, { declare: true, device: mallory.device }),
    ],
    [
      'the crack made good, a new key declared',
      () => mallory.rewrite(events, madeGood, { declare: true }),
    ],
  ];
  return forgeries.flatMap(([name, make]) =>
    (['forged first', 'honest first'] as const).flatMap((order) =>
      (['stranger', 'owner'] as const).map((where) => ({
        kind: 'fork',
        name: `${name}, ${order}, on the device of ${where === 'owner' ? 'the maker' : 'somebody else'}`,
        where,
        files: async () => {
          const forged = await pack({ ...parts, events: await make() }, { kind: 'old' });
          return order === 'forged first' ? [forged, file] : [file, forged];
        },
      })),
    ),
  );
}

export function isCrack(event: Event): boolean {
  return words([event]).some((text) => text.includes('crack'));
}

const dropCrack = (event: Event): Event | null => (isCrack(event) ? null : event);

function madeGood(event: Event): Event {
  if (event.what.kind !== 'heard' || !isCrack(event)) return event;
  return {
    ...event,
    what: { ...event.what, heard: { ...event.what.heard, text: 'bearing good' } },
  };
}

function swapped(events: readonly Event[], i: number): readonly Event[] {
  const out = [...events];
  const [a, b] = [events[i], events[i + 1]];
  if (a !== undefined && b !== undefined) out.splice(i, 2, b, a);
  return out;
}

/** Chained behind one another as they stand, device by device; seals are left as they were. */
function rehashed(events: readonly Event[]): readonly Event[] {
  const heads = new Map<string, string | null>();
  return events.map((event) => {
    const raw: Raw = { ...event, prev: heads.get(event.device) ?? null };
    const made = { ...raw, hash: hashOf(raw) } as unknown as Event;
    heads.set(event.device, made.hash);
    return made;
  });
}

function replayed(event: Event, last: Event | undefined, mallory: Forger): readonly Event[] {
  const { device: _device, prev: _prev, hash: _hash, ...draft } = event;
  void [_device, _prev, _hash];
  const again = { ...draft, id: mallory.world.id() };
  return chain([again], last?.device ?? '', last?.hash ?? null).map((c) => c.event);
}
