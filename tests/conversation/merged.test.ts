import fc from 'fast-check';
import { expect, test } from 'vitest';
import type { Event, Happening } from '#shared/event';
import { keyOf, phrasebooksOf, type Means } from '#shared/phrasebook';
import { mergedWith, phrasebookFile, readPhrasebook } from '#shared/phrasebook-file';

/* The phrasebooks of two devices, each with a log of its own, become one by their files. */

const SEED = 20261128;
const AIRCRAFT = 'Rowan 2';

const means: fc.Arbitrary<Means> = fc.oneof(
  fc.constantFrom<Means>(
    { is: 'check', check: 'tail-skid' },
    { is: 'good', check: 'fuel-sample' },
    { is: 'bad' },
    { is: 'nothing' },
    { is: 'meant', check: 'cooling-fan', good: true },
    { is: 'meant', check: 'cooling-fan', good: false },
  ),
  fc.constantFrom('ground', 'watch', 'note').map((severity): Means => ({
    is: 'severity',
    check: 'cross-tubes',
    condition: 'corrosion',
    degree: null,
    count: null,
    size: null,
    severity: severity as 'ground' | 'watch' | 'note',
  })),
);
const telling = fc.record({
  phrase: fc.constantFrom('pogo stick', 'gin clear', 'lumpy'),
  speaker: fc.constantFrom('A. Pilot', null),
  means,
  at: fc.integer({ min: 0, max: 1_000_000 }),
  forgotten: fc.boolean(),
});

interface Telling {
  readonly phrase: string;
  readonly speaker: string | null;
  readonly means: Means;
  readonly at: number;
  readonly forgotten: boolean;
}

function event(id: string, at: number, what: Happening): Event {
  const place = { device: 'd', walk: null, aircraft: AIRCRAFT };
  return { v: 1, id, ...place, at, t: null, what, prev: null, hash: '' };
}

/** What one device knows by itself. */
function logOf(device: string, told: readonly Telling[]): Event[] {
  return told.flatMap(({ phrase, speaker, means: is, at, forgotten }, i) => {
    const id = `${device}${i}`;
    const learned = { id, phrase, speaker, means: is, from: 's' };
    return [
      event(`${id}l`, at, { kind: 'learned', learned }),
      ...(forgotten ? [event(`${id}u`, at + 1, { kind: 'unlearned', learned: id })] : []),
    ];
  });
}

/** The log after the file of the other device was brought in with a yes, at the end of all times. */
function after(own: readonly Event[], other: readonly Event[]): Event[] {
  const read = readPhrasebook(JSON.stringify(phrasebookFile(other, AIRCRAFT, 0)));
  if (!read.ok) throw new Error(read.error);
  const { learned, asks, forgotten } = mergedWith(own, read.value);
  const late = 2_000_000;
  return [
    ...own,
    ...[...learned, ...asks].map((l) => event(`in ${l.id}`, late, { kind: 'learned', learned: l })),
    ...forgotten.map((id) => event(`un ${id}`, late, { kind: 'unlearned', learned: id })),
  ];
}

const book = (events: readonly Event[]) => phrasebooksOf(events, AIRCRAFT).lines;

test(`two devices that exchange their files know the same, seed ${SEED}`, () => {
  fc.assert(
    fc.property(
      fc.array(telling, { maxLength: 8 }),
      fc.array(telling, { maxLength: 8 }),
      (a, b) => {
        const [one, two] = [logOf('a', a), logOf('b', b)];
        const merged = book(after(one, two));
        expect(merged).toEqual(book(after(two, one)));
        // The same in any order of the log, and a second time changes nothing.
        expect(book([...after(one, two)].reverse())).toEqual(merged);
        expect(book(after(after(one, two), two))).toEqual(merged);
      },
    ),
    { seed: SEED, numRuns: 300 },
  );
});

test(`without a yes nothing becomes good, harmless or milder, seed ${SEED}`, () => {
  fc.assert(
    fc.property(
      fc.array(telling, { maxLength: 8 }),
      fc.array(telling, { maxLength: 8 }),
      (a, b) => {
        const own = logOf('a', a);
        const file = phrasebookFile(logOf('b', b), AIRCRAFT, 0);
        const taken = mergedWith(own, file).learned;
        const now = book(own);
        for (const line of taken) {
          expect(['good', 'nothing']).not.toContain(line.means.is);
          if (line.means.is === 'meant') expect(line.means.good).toBe(false);
          const known = now.find((l) => keyOf(l) === keyOf(line));
          if (line.means.is === 'severity' && known?.means.is === 'severity') {
            const order = ['ground', 'watch', 'note'];
            expect(order.indexOf(line.means.severity)).toBeLessThanOrEqual(
              order.indexOf(known.means.severity),
            );
          }
        }
      },
    ),
    { seed: SEED, numRuns: 300 },
  );
});

test('bad is never undone by a good of the other device, as late as it may be', () => {
  const told = (is: Means, at: number): Telling => ({
    phrase: 'gin clear',
    speaker: null,
    means: is,
    at,
    forgotten: false,
  });
  const here = logOf('a', [told({ is: 'bad' }, 1)]);
  const there = logOf('b', [told({ is: 'good', check: 'fuel-sample' }, 9)]);
  expect(book(after(here, there))).toMatchObject([{ means: { is: 'bad' } }]);
  expect(book(after(there, here))).toMatchObject([{ means: { is: 'bad' } }]);
});
