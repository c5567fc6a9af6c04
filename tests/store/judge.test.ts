import fc from 'fast-check';
import { beforeAll, describe, expect, test } from 'vitest';
import { Catalogue } from '#shared/catalogue';
import type { Event } from '#shared/event';
import { fold } from '#reconcile';
import { linkOf, type Raw } from '../../src/store/chain.ts';
import { BESIDE, held, QUIET, type Held, type Place } from '../../src/store/trust/held.ts';
import { judgeWalk, type Judged } from '../../src/store/trust/judge.ts';
import { poolOf } from '../../src/store/trust/pool.ts';
import { sentencesOf } from '../../src/store/trust/sentences.ts';
import { forger, kinds, oldWalk, signedWalk, words } from './attack.ts';
import { countingWorld, drafting } from './help.ts';
import { memoryStore } from '#store';

const SEED = 20260105;

function heldOf(events: readonly unknown[], place: Place = 'new'): Held[] {
  return events.flatMap((raw) => {
    const link = linkOf(raw);
    return link === null ? [] : [held(link, () => raw as Raw, place)];
  });
}

/** An honest walk, and everything that a stranger makes of it. */
let honest: readonly Event[] = [];
let pool: readonly Event[] = [];
let walk = '';
let old: readonly Event[] = [];
beforeAll(async () => {
  const made = await signedWalk();
  walk = made.walk;
  honest = await made.store.walk(walk);
  const stranger = await forger();
  const drop = (e: Event) => (words([e]).some((t) => t.includes('crack')) ? null : e);
  old = await oldWalk(honest, (await forger(3)).key);
  pool = [
    ...(await stranger.rewrite(honest, drop)),
    ...(await stranger.rewrite(honest, drop, { declare: true })),
    ...(await stranger.rewrite(honest, drop, { device: stranger.device, declare: true })),
    ...stranger.chain([
      { walk, kind: 'station-set', station: 'nose' },
      { walk, kind: 'signed', name: 'Mallory', certificate: null },
      { walk, kind: 'decided', decision: 'fly', by: 'Mallory', authority: null, note: null },
      {
        walk,
        kind: 'let-in',
        device: stranger.device,
        publicKey: stranger.key.publicKey,
        by: null,
      },
    ]),
    ...honest.flatMap((e) =>
      stranger.chain([{ walk, kind: 'station-set', station: 'tail' }], {
        device: e.device,
        prev: e.hash,
      }),
    ),
    ...stranger.chain([{ walk, kind: 'station-set', station: 'x' }], {
      device: honest[0]?.device ?? '',
      prev: 'f'.repeat(64),
    }),
  ];
});

const some = () => fc.array(fc.nat(400), { maxLength: 30 });
const pick = (of: readonly number[]) => of.flatMap((i) => pool[i % pool.length] ?? []);
const judge = (events: readonly Held[]): Judged => judgeWalk(walk, poolOf(events));

describe(`the judge (seed ${SEED})`, () => {
  test('14.1 on the device that wrote it, nothing that anybody adds changes what counts', () => {
    fc.assert(
      fc.property(some(), (added) => {
        const known = {
          own: { device: honest[0]?.device ?? '', keys: new Set<string>() },
          keys: new Map<string, string[]>(),
          compared: new Set<string>(),
        };
        const here = heldOf(honest, 'here');
        const judged = judgeWalk(walk, poolOf([...here, ...heldOf(pick(added))]), known);
        expect(judged.version?.counts.map((e) => e.hash)).toEqual(
          honest.filter((e) => e.what.kind !== 'sealed').map((e) => e.hash),
        );
        expect(judged.version?.standing).toBe('sealed');
        expect(sentencesOf(judged).whole).toBe(true);
        // What was added is told, unless it is a part of the walk itself.
        const strange = pick(added).some((e) => !honest.some((h) => h.hash === e.hash));
        expect(
          sentencesOf(judged).remarks.length > 0,
          pick(added)
            .map((e) => `${e.what.kind} ${e.device} ${e.prev ?? ''}`)
            .join('; '),
        ).toBe(strange);
      }),
      { seed: SEED, numRuns: 300 },
    );
  });

  test('gives the same answer in whatever order events arrive', () => {
    fc.assert(
      fc.property(some(), fc.array(fc.nat()), (added, keys) => {
        const events = heldOf([...honest, ...pick(added)]);
        const shuffled = events
          .map((e, i) => ({ e, key: keys[i] ?? 0 }))
          .sort((a, b) => a.key - b.key)
          .map(({ e }) => e);
        const [a, b] = [judge(events), judge(shuffled)];
        expect(b.version?.mark).toBe(a.version?.mark);
        expect(sentencesOf(b).text).toBe(sentencesOf(a).text);
        expect(b.others.map((v) => v.mark)).toEqual(a.others.map((v) => v.mark));
      }),
      { seed: SEED, numRuns: 200 },
    );
  });

  test('loses no event: each counts, follows, stands beside, is another version, or is aside', () => {
    fc.assert(
      fc.property(some(), some(), (kept, added) => {
        const mine = honest.filter((_, i) => !kept.includes(i));
        const events = heldOf([...mine, ...pick(added)]);
        const judged = judge(events);
        const versions = [judged.version, ...judged.others].flatMap((v) => (v === null ? [] : [v]));
        const seen = new Set(
          [
            ...versions.flatMap((v) => [...v.counts, ...v.after, ...v.late.map((a) => a.event)]),
            ...judged.beside.said.map((s) => s.event),
            ...judged.aside.map((a) => a.event),
          ].map((e) => e.hash),
        );
        for (const e of events)
          expect(seen.has(e.hash) || judged.beside.seals.has(e.hash)).toBe(true);
      }),
      { seed: SEED, numRuns: 200 },
    );
  });

  test.each(['now', 'older'])(
    'R4 any part of a sealed walk (%s) that is not all of it is never whole',
    (which) => {
      fc.assert(
        fc.property(fc.subarray(Array.from({ length: 7 }, (_, i) => i)), (left) => {
          const all = which === 'now' ? honest : old;
          const events = left.flatMap((i) => all[i] ?? []);
          const { whole } = sentencesOf(judge(heldOf(events)));
          expect(whole).toBe(left.length === all.length);
        }),
        { seed: SEED, numRuns: 150 },
      );
    },
  );
});

test('14.2 the kinds that may follow a signature unremarked never bear on the coverage', () => {
  const catalogue = Catalogue.parse({
    v: 1,
    id: 'two-seat-helicopter',
    name: 'Small one',
    kind: 'other',
    stations: [
      { id: 'nose', name: 'Nose', place: { x: 5, y: 5 }, checks: [{ id: 'tyre', name: 'Tyre' }] },
    ],
  });
  const at = honest.at(-2);
  const quiet: readonly Event['what'][] = [
    { kind: 'spoken', text: 'all good', from: 600, to: 601 },
    { kind: 'replied', tone: 'understood', text: '', how: 'none', from: 600, answers: null },
    { kind: 'listening-changed', listening: 'typed', why: '' },
    { kind: 'sound-missing', why: '' },
    { kind: 'sound-erased', recording: 'r', why: '' },
    { kind: 'picture-erased', picture: 'p', why: '' },
    { kind: 'brought-back', events: 1, chunks: 0, damaged: 0, key: 'new' },
    {
      kind: 'sound-kept',
      recording: 'r',
      chunk: 0,
      place: { recording: 'r', from: 0, to: 1 },
      mime: 'audio/wav',
      hash: '',
    },
    { kind: 'reader-changed', reader: { version: '2', weights: null } },
    { kind: 'sealed', publicKey: '', signature: '', over: '' },
  ];
  expect(new Set(quiet.map((q) => q.kind))).toEqual(QUIET);
  const before = fold(catalogue, honest);
  for (const what of quiet) {
    const added = { ...(at as Event), id: `z-${what.kind}`, t: 999, what } as Event;
    const { times: _t, ...after } = fold(catalogue, [...honest, added]);
    const { times: _u, ...plain } = before;
    void [_t, _u];
    expect(after, what.kind).toEqual(plain);
  }
});

test('R6 a review changes no standing, no finding and no question of the sheet', () => {
  expect([...BESIDE]).toEqual(['reviewed', 'amendment']);
  const catalogue = Catalogue.parse({
    v: 1,
    id: 'two-seat-helicopter',
    name: 'Small one',
    kind: 'other',
    stations: [
      {
        id: 'nose',
        name: 'Nose',
        place: { x: 5, y: 5 },
        checks: [
          { id: 'tyre', name: 'Tyre' },
          { id: 'belts', name: 'Belts' },
        ],
      },
    ],
  });
  const [first] = honest;
  const said: Event['what'] = {
    kind: 'stated',
    statement: {
      v: 1,
      kind: 'retraction',
      id: 's-1',
      heard: 'h',
      span: { from: 0, to: 1, words: 'no' },
      why: [],
      of: 'any',
    },
  };
  const at = (n: number, what: Event['what']) =>
    ({ ...(first as Event), id: `z-${n}`, t: n, what }) as Event;
  const walk = [...honest.slice(0, 3), at(400, said), ...honest.slice(3)];
  const before = fold(catalogue, walk);
  const reviews = ['spoken', 'unspoken', 'in-question'].flatMap((standing, i) =>
    ['tyre', 'belts'].map((check, j) =>
      at(900 + i * 2 + j, {
        kind: 'reviewed',
        by: 'I. Structor',
        note: '',
        of: { kind: 'standing', check, standing: standing as 'spoken' },
      }),
    ),
  );
  const amended = at(990, { kind: 'amendment', by: 'P. Heron', note: 'All was good.' });
  const after = fold(catalogue, [...walk, ...reviews, amended]);
  const plain = (c: typeof before) => ({
    checks: c.checks.map(({ check, standing, required }) => ({ check, standing, required })),
    findings: c.findings.map(({ id, check, severity }) => ({ id, check, severity })),
    questions: c.questions,
    open: c.open,
    decision: c.decision,
    signed: c.signed,
  });
  expect(plain(after)).toEqual(plain(before));
  // They do stand beside it.
  expect(after.checks.some((c) => c.reviewed !== null)).toBe(true);
});

test('a device that was let in adds to the walk, once its key or the walk’s seal vouches for it', async () => {
  const [a, b] = [countingWorld(1), countingWorld(2)];
  const [first, second] = [await memoryStore(a), await memoryStore(b)];
  const id = a.id();
  const mine = drafting(a, id);
  const theirs = drafting(b, id);
  await first.append([mine.begun(), mine.said('belts good')]);
  await second.merge(await first.all());
  await expect(second.append([theirs.said('skids good')])).rejects.toThrow(/another device/);
  await first.append([
    mine.draft({
      kind: 'let-in',
      device: second.device,
      publicKey: await second.publicKey(),
      by: 'P. Heron',
    }),
  ]);
  await second.merge(await first.all());
  await second.append([theirs.said('skids good')]);
  await first.merge(await second.all());
  // On its own word it does not count yet.
  expect(words((await first.judged(id)).counts)).toEqual(['belts good']);
  await second.seal(id);
  await first.merge(await second.all());
  expect(words((await first.judged(id)).counts)).toEqual(['belts good', 'skids good']);
  await first.append([mine.draft({ kind: 'signed', name: 'P. Heron', certificate: null })]);
  const trust = await first.judged(id);
  expect(trust.verdict).toMatchObject({ whole: true, remarks: [] });
  expect(kinds(trust.counts).sort()).toEqual(['heard', 'heard', 'let-in', 'signed', 'walk-begun']);
  await second.merge(await first.all());
  expect((await second.judged(id)).verdict.whole).toBe(true);
});
