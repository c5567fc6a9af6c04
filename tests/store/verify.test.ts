import { describe, expect, test } from 'vitest';
import type { Event } from '#shared/event';
import { memoryStore, verifyEvents, verifyFile } from '#store';
import { canonical } from '../../src/store/canonical.ts';
import { hashOf, type Raw } from '../../src/store/chain.ts';
import { countingWorld, drafting } from './help.ts';

/** A sealed walk of six events: begun, three said, finished, sealed. */
async function sealedWalk(seed = 1) {
  const world = countingWorld(seed);
  const store = await memoryStore(world);
  const walk = world.id();
  const { begun, said, finished } = drafting(world, walk);
  await store.append([begun(), said('belts good'), said('left brake line chafed'), said('ok')]);
  await store.append([finished()]);
  await store.seal(walk);
  const events = await store.walk(walk);
  return { store, walk, events, lines: events.map((e) => canonical(e)) };
}
const bytes = (text: string) => new TextEncoder().encode(text);
const changed = (event: Event, fields: Record<string, unknown>): Raw => ({ ...event, ...fields });
/** Changed and hashed again, as a forger would. */
const forged = (event: Event, fields: Record<string, unknown>): Raw => {
  const raw = changed(event, fields);
  return { ...raw, hash: hashOf(raw) };
};

describe('a sealed walk', () => {
  test('verifies, and names its seal', async () => {
    const { events, walk } = await sealedWalk();
    expect(verifyEvents(events, { whole: true })).toMatchObject({
      ok: true,
      broken: null,
      events: 6,
      seals: [{ walk }],
      gaps: [],
      chains: [{ first: events[0]?.id, last: events[5]?.id, events: 6, whole: true }],
    });
  });

  test('with any one byte changed is refused, and the event is named', async () => {
    const { events, lines } = await sealedWalk();
    const file = bytes(lines.join('\n'));
    let line = 0;
    for (let at = 0; at < file.length; at += 1) {
      if (file[at] === 10) {
        line += 1;
        continue;
      }
      // Every 7th byte, so that the test stays short; 7 divides no field.
      if (at % 7 !== 0) continue;
      const copy = file.slice();
      copy[at] = (copy[at] ?? 0) ^ 1;
      const verdict = await verifyFile(copy);
      expect(verdict.ok, `byte ${at}`).toBe(false);
      const id = events[line]?.id;
      const named = verdict.lines.join('\n');
      // When the id itself was hit, the event is named by what became of it.
      const idHit = !new TextDecoder().decode(copy).includes(`"id":"${id}","prev"`);
      if (!idHit) expect(verdict.broken ?? named, `byte ${at} of line ${line}`).toBe(id);
    }
    expect(line).toBe(5);
  });

  test.each([
    [
      'its words changed',
      (e: Event[]) => splice(e, 1, [changed(at(e, 1), { at: 1 })]),
      1,
      'changed after',
    ],
    [
      'its words changed and hashed again',
      (e: Event[]) => splice(e, 1, [forged(at(e, 1), { at: 1 })]),
      2,
      'taken out',
    ],
    ['an event taken out', (e: Event[]) => splice(e, 2, []), 3, 'taken out'],
    ['its beginning taken out', (e: Event[]) => splice(e, 0, []), 1, 'beginning of its walk'],
    ['an event doubled', (e: Event[]) => [...e, at(e, 2)], 2, 'twice'],
    [
      'an event put beside another',
      (e: Event[]) => [...e, forged(at(e, 2), { id: 'ffffffff-0000-7000-8000-000000000000' })],
      'ffffffff-0000-7000-8000-000000000000',
      'forked',
    ],
    [
      'its seal over something else',
      (e: Event[]) =>
        splice(e, 5, [forged(at(e, 5), { what: { ...at(e, 5).what, over: at(e, 3).hash } })]),
      5,
      'not over the event before',
    ],
    [
      'its signature changed',
      (e: Event[]) =>
        splice(e, 5, [forged(at(e, 5), { what: { ...at(e, 5).what, signature: 'A'.repeat(86) } })]),
      5,
      'signature of the seal',
    ],
    [
      'another key',
      (e: Event[]) =>
        splice(e, 5, [forged(at(e, 5), { what: { ...at(e, 5).what, publicKey: 'A'.repeat(43) } })]),
      5,
      'signature of the seal',
    ],
  ])('with %s does not verify', async (_name, change, broken, why) => {
    const { events } = await sealedWalk();
    const verdict = verifyEvents(change([...events]));
    const expected = typeof broken === 'number' ? events[broken]?.id : broken;
    expect(verdict).toMatchObject({ ok: false, broken: { event: expected } });
    expect(verdict.broken?.why).toContain(why);
  });

  test('rewritten from an event on, with every hash made again, breaks at the seal', async () => {
    const { events } = await sealedWalk();
    let prev: unknown = null;
    const rewritten = events.map((event, i) => {
      const raw = forged(event, i === 2 ? { prev, at: 1 } : { prev });
      prev = raw['hash'];
      return raw;
    });
    expect(verifyEvents(rewritten)).toMatchObject({
      ok: false,
      broken: { event: events[5]?.id, kind: 'seal' },
    });
  });
});

function splice<T>(list: readonly T[], index: number, instead: readonly unknown[]): unknown[] {
  return [...list.slice(0, index), ...instead, ...list.slice(index + 1)];
}
function at(events: readonly Event[], index: number): Event {
  const event = events[index];
  if (event === undefined) throw new Error(`no event ${index}`);
  return event;
}

test('a walk handed over alone verifies, with the gap before it named', async () => {
  const world = countingWorld();
  const store = await memoryStore(world);
  const first = drafting(world, world.id());
  const second = drafting(world, world.id());
  await store.append([first.begun(), first.finished()]);
  const events = await store.append([second.begun(), second.said('belts good')]);
  expect(verifyEvents(events)).toMatchObject({
    ok: true,
    gaps: [{ device: store.device, before: events[0]?.id }],
    chains: [{ whole: false }],
  });
  expect(verifyEvents(events, { whole: true })).toMatchObject({
    ok: false,
    broken: { event: events[0]?.id, kind: 'missing' },
  });
});

test('a clock that steps back does not change the order of a chain', async () => {
  const world = countingWorld();
  let back = 0;
  const stepping = { ...world, id: () => world.id().replace(/^../, back > 0 ? '00' : '01') };
  const store = await memoryStore(stepping);
  const { begun, said, finished } = drafting(stepping, stepping.id());
  const drafts = [begun(), said('belts good')];
  back = 1;
  drafts.push(said('no cracks'), finished());
  const events = await store.append(drafts);
  expect(events[2] !== undefined && events[1] !== undefined && events[2].id < events[1].id).toBe(
    true,
  );
  expect(await store.walk(events[0]?.walk ?? '')).toEqual(events);
  expect((await store.verify()).ok).toBe(true);
});

test.each([
  ['nothing', '', 'no event in this file'],
  ['words', 'hello', 'no event in this file'],
  ['an empty list', '[]', 'no event in this file'],
  ['a cut list', '[{"v":1', 'not JSON'],
  ['a cut zip', 'PK\u0003\u0004', 'not a readable zip'],
  ['a list nested without end', '['.repeat(100_000), 'nested deeper than 60'],
])('%s is no file of events, and is told so', async (_name, text, sentence) => {
  const verdict = await verifyFile(bytes(text));
  expect(verdict.ok).toBe(false);
  expect(verdict.lines.join(' ')).toContain(sentence);
});

test('a JSON array of events verifies like lines', async () => {
  const { events } = await sealedWalk();
  expect((await verifyFile(bytes(JSON.stringify(events)))).ok).toBe(true);
});

test('words with half of a surrogate pair are mended, not lost', async () => {
  const world = countingWorld();
  const store = await memoryStore(world);
  const { begun, said } = drafting(world, 'w');
  await store.append([begun(), said('belts \ud83d good')]);
  const last = (await store.walk('w')).at(-1);
  expect(last?.what).toMatchObject({ heard: { text: 'belts \ufffd good' } });
  expect((await store.verify()).ok).toBe(true);
});
