import { describe, expect, test } from 'vitest';
import type { Event, Happening } from '#shared/event';
import { squawksOf } from '#reconcile';
import { memoryStore } from '#store';
import { sha256Hex } from '../../src/store/canonical.ts';
import { chain, hashOf, type Raw } from '../../src/store/chain.ts';
import { verifyFile } from '../../src/store/verify-file.ts';
import { pack, specimens } from '../ordeal/tamper/specimen.ts';
import { forger, signedWalk, words } from './attack.ts';
import { countingWorld, uuid7 } from './help.ts';

/* Issue 14: names that a stranger's file claims, which are somebody else's. */

const mallory = await forger(67);
const [specimen] = await specimens();
if (specimen === undefined) throw new Error('No specimen.');
const { parts } = specimen;

/** A file that a stranger made and signed. */
function theirs(events: readonly Event[]) {
  const { key, device } = mallory;
  return pack({ ...parts, device, events, sounds: [] }, { kind: 'signed', key, device });
}

/** Events outside walks, with ids from long ago. */
function outside(happenings: readonly Happening[], at = 1): readonly Event[] {
  const drafts = happenings.map((what, n) => ({
    v: 1 as const,
    id: uuid7(at, n),
    walk: null,
    aircraft: 'R-102',
    at,
    t: null,
    what,
  }));
  return chain(drafts, mallory.device, null).map((c) => c.event);
}

const opened = (text: string, aircraft = 'R-102'): Happening => ({
  kind: 'squawk',
  squawk: 's1',
  step: {
    step: 'opened',
    aircraft,
    fault: {
      words: text,
      check: null,
      part: null,
      side: null,
      position: null,
      conditions: [],
      value: null,
      severity: 'ground',
    },
    statement: null,
    heard: null,
    sound: null,
    reporter: 'P. Heron',
    found: null,
    hours: null,
    legacy: false,
  },
});

async function withSquawk() {
  const world = countingWorld(5);
  const store = await memoryStore(world);
  const what = opened('crack in the mast');
  const about = { v: 1 as const, walk: null, aircraft: 'R-102', at: world.now(), t: null };
  await store.append([{ ...about, id: world.id(), what }]);
  const list = async () =>
    squawksOf(await store.squawkEvents()).map((s) => [s.fault.words, s.aircraft, s.state]);
  return { store, list };
}

describe('14 R4 a squawk that is here', () => {
  test('keeps its words and its aircraft when a stranger opens another under its id, earlier by its clock', async () => {
    const { store, list } = await withSquawk();
    await store.restore(await theirs(outside([opened('a little dust', 'Z-9')])));
    const here = await list();
    expect(here).toContainEqual(['crack in the mast', 'R-102', 'open']);
    // R4: nor is the other one lost.
    expect(here).toContainEqual(['a little dust', 'Z-9', 'open']);
  });

  test('is one where the same is told again by another version of its walk', async () => {
    const { store, list } = await withSquawk();
    await store.restore(await theirs(outside([opened('crack in the mast')])));
    expect(await list()).toHaveLength(1);
  });

  test.each([
    [{ step: 'closed', by: 'M.', note: null } as const, 'squawks closed: 1'],
    [{ step: 'withdrawn', by: 'M.', reason: 'x' } as const, 'squawks withdrawn: 1'],
    [{ step: 'joined', into: 's9', by: 'M.' } as const, 'squawks joined to another: 1'],
  ])('is not taken off the list unseen: %o', async (step, told) => {
    const { store } = await withSquawk();
    const { text } = await store.restore(
      await theirs(outside([{ kind: 'squawk', squawk: 's1', step }], Date.UTC(2026, 5, 1))),
    );
    expect(text.join('\n')).toContain(
      `By the word of device ${mallory.device} alone, what was here has changed: ${told}.`,
    );
  });

  test.each([
    ['one that is not here', ['s9']],
    ['itself', ['s1']],
  ])('joined to %s is open', async (_, into) => {
    const { store, list } = await withSquawk();
    const steps = into.map((to): Happening => ({
      kind: 'squawk',
      squawk: 's1',
      step: { step: 'joined', into: to, by: 'M.' },
    }));
    await store.restore(await theirs(outside(steps, Date.UTC(2026, 5, 1))));
    expect(await list()).toEqual([['crack in the mast', 'R-102', 'open']]);
  });

  test('opened by an event whose id a stranger gave to another squawk first is there all the same', async () => {
    const { store } = await withSquawk();
    const [honest] = await store.all();
    if (honest === undefined) throw new Error('Nothing.');
    const receiver = await memoryStore(countingWorld(9), { device: 'receiver' });
    const what: Happening = { ...(opened('dust') as object), squawk: 's2' } as Happening;
    const { id } = honest;
    const draft = { v: 1 as const, id, walk: null, aircraft: 'R-102', at: 1, t: null, what };
    await receiver.merge(chain([draft], mallory.device, null).map((c) => c.event));
    await receiver.merge([honest]);
    const said = squawksOf(await receiver.squawkEvents()).map((s) => s.fault.words);
    expect(said.sort()).toEqual(['crack in the mast', 'dust']);
  });
});

test('14.5 R4 a finding whose event id a stranger’s walk took first is on the sheet', async () => {
  const { store, walk } = await signedWalk();
  const honest = await store.walk(walk);
  const crack = honest.find((e) => words([e]).join().includes('crack'));
  const [begun] = honest;
  if (crack === undefined || begun === undefined) throw new Error('No crack.');
  const other = 'another-walk';
  const own = mallory.chain([{ walk: other, ...begun.what }]);
  const resumed = { kind: 'resumed' as const };
  const draft = { v: 1 as const, id: crack.id, walk: other, aircraft: 'R-102', at: 5, t: 1 };
  const took = chain([{ ...draft, what: resumed }], mallory.device, own.at(-1)?.hash ?? null);
  const receiver = await memoryStore(countingWorld(9), { device: 'receiver' });
  await receiver.merge([...own, ...took.map((c) => c.event)]);
  await receiver.merge(honest);
  const { counts, verdict } = await receiver.judged(walk);
  expect(words(counts)).toEqual(['belts good', 'a crack at the upper bearing']);
  expect(words(await receiver.counted(walk))).toEqual(words(counts));
  expect(verdict.whole).toBe(true);
});

describe('14 bytes that the log names', () => {
  test('R6 a picture stays the one that its hash names when a stranger’s walk claims its id', async () => {
    const { store, walk } = await signedWalk();
    const data = Uint8Array.of(1, 2, 3).buffer;
    const hash = sha256Hex(new Uint8Array(data));
    const place = { walk: null, aircraft: 'R-102', t: null };
    const shape = { mime: 'image/jpeg', width: 1, height: 1 };
    const of = { kind: 'squawk', squawk: 's1' } as const;
    await store.keepPicture({ ...place, ...shape, picture: 'p1', of, data });
    const [begun] = await store.walk(walk);
    if (begun === undefined) throw new Error('Not begun.');
    const claim: Happening = {
      kind: 'picture-kept',
      picture: 'p1',
      hash: 'a'.repeat(64),
      ...shape,
      of,
    };
    await store.restore(
      await theirs([...mallory.chain([{ walk: 'x', ...begun.what }]), ...outside([claim])]),
    );
    expect(await store.picture('p1', hash)).toMatchObject({ state: 'here', data });
  });

  test.each(['outside walks', 'in a walk of its own'])(
    '14.4 sound that a made-up device has erased %s is told at bringing in, on the sheet and by verify',
    async (where) => {
      const { file, walk, parts: honest } = specimen as NonNullable<typeof specimen>;
      const recording = honest.sounds[0]?.recording ?? '';
      const receiver = await memoryStore(countingWorld(9), { device: 'receiver' });
      await receiver.restore(file);
      const erase: Happening = { kind: 'sound-erased', recording, why: 'asked for' };
      const begun = (honest.events as readonly Event[])[0];
      if (begun === undefined) throw new Error('Not begun.');
      const forged =
        where === 'outside walks'
          ? outside([erase])
          : mallory.chain([
              { walk: 'x', ...begun.what },
              { walk: 'x', ...erase },
            ]);
      const { text } = await receiver.restore(await theirs(forged));
      expect(text.join('\n')).toContain('what was here has changed: recordings erased: 1.');
      const line = `The sound ${recording} was erased on request`;
      expect((await receiver.judged(walk)).besideLines.join('\n')).toContain(line);
      const { key, device } = mallory;
      const all = { ...honest, events: [...honest.events, ...forged], sounds: [] };
      const verdict = await verifyFile(await pack(all, { kind: 'signed', key, device }));
      expect(verdict.lines.join('\n')).toContain(`Walk ${walk}: ${line}`);
    },
  );
});

describe('14 a time that no clock shows', () => {
  const learned = { id: 'l', phrase: 'x', means: { is: 'bad' }, speaker: null, from: 's' } as const;
  const poisoned = (at: number, inside?: number): Event => {
    const [good] = outside([{ kind: 'learned', learned: { ...learned } }]);
    if (good?.what.kind !== 'learned') throw new Error('Nothing learned.');
    const { hash: _hash, ...rest } = good;
    void _hash;
    const what = {
      ...good.what,
      learned: { ...learned, ...(inside === undefined ? {} : { at: inside }) },
    };
    const raw = { ...rest, at, what };
    return { ...raw, hash: hashOf(raw as unknown as Raw) };
  };

  test('is refused in one sentence, and ends nothing', async () => {
    const { store } = await signedWalk();
    const merged = await store.merge([poisoned(1e300)]);
    expect(merged.refused).toEqual([
      { event: uuid7(1, 0), why: 'Its time is none that a clock shows.' },
    ]);
    const lines = new TextEncoder().encode(`${JSON.stringify(poisoned(1e300))}\n`);
    const verdict = await verifyFile(lines);
    expect(verdict).toMatchObject({ ok: false, broken: uuid7(1, 0) });
  });

  test('inside an event is not read, and no phrasebook breaks by it', async () => {
    const { store } = await signedWalk();
    await store.merge([poisoned(1, 1e300)]);
    expect(await store.learnedEvents()).toEqual([]);
    expect(await store.unreadable()).toHaveLength(1);
  });

  test('in the list of a backup is refused in words', async () => {
    const file = await pack({ ...parts, made: 1_800_000_000_000 }, { kind: 'old' });
    const text = new TextDecoder('latin1')
      .decode(file)
      .replaceAll('1800000000000', '1800000000e99');
    const verdict = await verifyFile(Uint8Array.from(text, (c) => c.charCodeAt(0)));
    expect(verdict.ok).toBe(false);
    expect(verdict.lines).toHaveLength(1);
  });
});

describe('14.4 R6 a compared key', () => {
  test('speaks for its own device, and for no other: a mate makes no walk of somebody else anew', async () => {
    const { store, walk } = await signedWalk();
    const honest = await store.walk(walk);
    const receiver = await memoryStore(countingWorld(9), { device: 'receiver' });
    await receiver.restore((await store.backup()).file);
    const { device, key } = mallory;
    await receiver.meetDevice({ device, publicKey: key.publicKey, name: 'A mate' });
    const forged = await mallory.rewrite(
      honest.map((e) => ({ ...e, id: e.id.replace('-8000-', '-9000-') })),
      (e) => (words([e]).join().includes('crack') ? null : e),
      { declare: true },
    );
    const { announced } = await receiver.restore(await theirs(forged));
    expect(announced.join('\n')).toContain('now seals with another');
    const { counts, verdict, versions } = await receiver.judged(walk);
    expect(words(counts)).toContain('a crack at the upper bearing');
    expect(verdict.whole).toBe(false);
    expect(versions.map((v) => v.text).join('\n')).toContain('under a NEW key');
    // Ticked by its words, it is ticked for the mate.
    await receiver.compareKey(key.publicKey, true);
    const keys = (await receiver.devices()).filter((k) => k.publicKey === key.publicKey);
    expect(keys.map((k) => [k.device === device, k.compared])).toEqual([
      [true, true],
      [false, false],
    ]);
  });
});
