import fc from 'fast-check';
import { expect, test } from 'vitest';
import { coverageOf, fold, leftText, start, stateOf, step } from '#reconcile';
import type { Coverage } from '#shared/coverage';
import type { Event } from '#shared/event';
import * as n from './notation.ts';

const SEED = 20261125;
const RUNS = { seed: SEED, numRuns: 60 };
const named = (law: string) => `${law} (seed ${SEED})`;

const checks = n.AIRCRAFT.stations.flatMap((s) => s.checks.map((c) => c.id));
const check = fc.constantFrom(...checks, 'not-in-the-catalogue');
const part = fc.constantFrom<n.Part>(
  n.good(),
  n.good('condition'),
  n.good('slack'),
  n.bad(),
  n.checked,
  n.has('crack'),
  n.has('wrinkle'),
  n.has('chafing'),
  n.has('crack', { aspects: ['condition'] }),
  n.no('crack'),
  n.no('slack', 'slack'),
  n.value('level', 7),
  n.value('level', 5),
  n.withoutUnit('level', 7),
  n.onGauge('give', 3, 'past the second knuckle'),
  n.rated('watch'),
  n.rated('ground'),
  n.acts('look'),
  n.acts('feel'),
  n.doubtful,
  { compared: 'same' },
  { compared: 'gone' },
);
const places = fc.constantFrom<n.Part>(
  n.left,
  n.right,
  n.all,
  n.plural,
  n.oneMore,
  n.named('2'),
  {},
);
const force = fc.oneof(
  { weight: 6, arbitrary: fc.constant(n.force('result')) },
  { weight: 1, arbitrary: fc.constantFrom(n.force('teaching'), n.force('past')) },
);
const amends = fc.option(fc.integer({ min: 1, max: 20 }), { freq: 3, nil: undefined });
const result = fc
  .tuple(check, fc.array(part, { minLength: 1, maxLength: 3 }), places, force, amends)
  .map(([c, parts, where, f, a]) =>
    n.said(c, ...parts, where, f, ...(a === undefined ? [] : [n.amends(a)])),
  );
const station = fc.constantFrom('engine', 'boom', 'gear');
const line: fc.Arbitrary<n.Line> = fc.oneof(
  { weight: 10, arbitrary: result },
  { weight: 1, arbitrary: fc.tuple(station, part).map(([s, p]) => n.blanket(s, p)) },
  { weight: 1, arbitrary: part.map((p) => n.unplaced('thing', p)) },
  {
    weight: 1,
    arbitrary: fc.tuple(check, check, part).map(([a, b, p]) => n.nearTie([a, b], p)),
  },
  { weight: 1, arbitrary: fc.integer({ min: 1, max: 20 }).map((i) => n.takeBack(i)) },
  {
    weight: 1,
    arbitrary: fc
      .tuple(
        fc.constantFrom('ground', 'watch', 'note' as const),
        fc.option(fc.integer({ min: 1, max: 20 })),
      )
      .map(([s, of]) => n.rate(s, of)),
  },
  { weight: 1, arbitrary: check.map((c) => n.setAside(c, 'not fitted')) },
  { weight: 1, arbitrary: station.map((s) => n.arrive(s)) },
  { weight: 1, arbitrary: fc.constantFrom(n.finish, n.holdOn, n.goOn, n.notUnderstood('mumble')) },
  {
    weight: 1,
    arbitrary: fc.tuple(fc.integer({ min: 1, max: 20 }), check).map(([i, c]) => n.place(i, c)),
  },
  {
    weight: 1,
    arbitrary: fc
      .tuple(fc.constantFrom('night', 'cold', 'first-flight' as const), fc.boolean())
      .map(([circumstance, holds]): n.Line => ({ kind: 'circumstance-set', circumstance, holds })),
  },
  {
    weight: 1,
    arbitrary: fc.integer({ min: 1, max: 20 }).map((i) => n.ask({ about: n.s(i), id: `q${i}` })),
  },
  {
    weight: 1,
    arbitrary: fc
      .tuple(fc.integer({ min: 1, max: 20 }), fc.option(result))
      .map(([i, instead]): n.Line => ({
        kind: 'reviewed',
        by: 'I. Structor',
        note: '',
        of: {
          kind: 'reading',
          statement: n.s(i),
          instead: instead === null ? null : { ...instead, id: `review-${i}` },
        },
      })),
  },
);
const squawks = fc
  .boolean()
  .map((carried) => (carried ? [{ squawk: 'q', check: 'skin', text: 'dent' }] : []));
const walk = fc
  .tuple(squawks, fc.array(line, { maxLength: 25 }))
  .map(([carried, lines]) => n.walk(n.begun({ squawks: carried }), ...lines));

function stepped(events: readonly Event[]) {
  return events.reduce((state, event) => step(state, event).state, start(n.AIRCRAFT));
}

/** What a sheet says about the aircraft, without how the walk went. */
function matter({ checks: c, findings, open, questions }: Coverage) {
  return { checks: c, findings, open, questions };
}

test(named('one event after the other gives what folding gives'), () => {
  fc.assert(
    fc.property(walk, (events) => {
      expect(coverageOf(stepped(events))).toEqual(fold(n.AIRCRAFT, events));
    }),
    RUNS,
  );
});

test(named('a step names exactly the checks whose coverage changed'), () => {
  fc.assert(
    fc.property(walk, (events) => {
      let state = start(n.AIRCRAFT);
      for (const event of events) {
        const before = coverageOf(state).checks;
        const next = step(state, event);
        const after = coverageOf(next.state).checks;
        const changed = after.filter((c, i) => JSON.stringify(c) !== JSON.stringify(before[i]));
        expect([...next.changed].sort()).toEqual(changed.map((c) => c.check).sort());
        // What did not change is shared with the state before.
        after.forEach((c, i) => {
          if (!next.changed.includes(c.check)) expect(c).toBe(before[i]);
        });
        state = next.state;
      }
    }),
    RUNS,
  );
});

test(named('a state that was stepped from stays what it was'), () => {
  fc.assert(
    fc.property(walk, walk, (one, other) => {
      const at = Math.floor(one.length / 2);
      const state = stepped(one.slice(0, at));
      const before = JSON.stringify(coverageOf(state));
      const left = one.slice(at).reduce((s, e) => step(s, e).state, state);
      const right = other.slice(at).reduce((s, e) => step(s, e).state, state);
      expect(JSON.stringify(coverageOf({ ...state }))).toBe(before);
      expect(coverageOf(left)).toEqual(fold(n.AIRCRAFT, one));
      expect(coverageOf(right)).toEqual(
        fold(n.AIRCRAFT, [...one.slice(0, at), ...other.slice(at)]),
      );
    }),
    RUNS,
  );
});

test(named('an event that comes twice changes nothing'), () => {
  fc.assert(
    fc.property(walk, (events) => {
      const twice = events.flatMap((e) => [e, e]);
      expect(coverageOf(stepped(twice))).toEqual(coverageOf(stepped(events)));
      expect(fold(n.AIRCRAFT, [...events, ...events])).toEqual(fold(n.AIRCRAFT, events));
      const state = stateOf(n.AIRCRAFT, events);
      for (const event of events) expect(step(state, event)).toEqual({ state, changed: [] });
    }),
    RUNS,
  );
});

test(named('the order of arrival does not matter'), () => {
  fc.assert(
    fc.property(
      walk.chain((events) =>
        fc.tuple(fc.constant(events), fc.shuffledSubarray(events, { minLength: events.length })),
      ),
      ([events, shuffled]) => {
        const coverage = fold(n.AIRCRAFT, events);
        expect(fold(n.AIRCRAFT, shuffled)).toEqual(coverage);
        expect(coverageOf(stepped(shuffled))).toEqual(coverage);
      },
    ),
    RUNS,
  );
});

/** The coverage without the words of talk that are kept beside it. */
function unexplained(coverage: ReturnType<typeof fold>) {
  const kept = matter(coverage);
  return {
    ...kept,
    checks: coverage.checks.map(({ told, ...c }) => ({
      ...c,
      done: told?.done,
      reported: told?.reported,
    })),
  };
}

test(named('R2 appending teaching changes nothing but what is kept as explained'), () => {
  const talk = fc.constantFrom(
    'teaching',
    'hypothesis',
    'past',
    'hearsay',
    'question',
    'intention' as const,
  );
  fc.assert(
    fc.property(walk, talk, result, (events, f, said) => {
      if (said.kind !== 'observation') return;
      const what = {
        kind: 'stated' as const,
        statement: { ...said, id: 'talk', heard: 'h', force: f },
      };
      const longer = [...events, n.event(events.length, events.length, what)];
      const after = fold(n.AIRCRAFT, longer);
      expect(unexplained(after)).toEqual(unexplained(fold(n.AIRCRAFT, events)));
      if (said.about.kind !== 'check') return;
      const { check } = said.about;
      const known = after.checks.find((c) => c.check === check);
      if (known === undefined) return;
      const explained = known.told?.explained ?? [];
      expect(explained.at(-1)).toMatchObject({ force: f, words: said.span.words });
    }),
    RUNS,
  );
});

test(named('R3 a condition said to be absent is never a finding'), () => {
  fc.assert(
    fc.property(check, fc.constantFrom('crack', 'wrinkle', 'chafing'), places, (c, what, where) => {
      const events = n.walk(n.begun(), n.said(c, n.no(what), where));
      expect(fold(n.AIRCRAFT, events).findings).toEqual([]);
    }),
    RUNS,
  );
});

test(named('R4 a finding is never dropped'), () => {
  fc.assert(
    fc.property(walk, (events) => {
      const coverage = fold(n.AIRCRAFT, events);
      const listed = new Set(coverage.findings.flatMap((f) => f.statements));
      for (const { what } of events) {
        if (what.kind !== 'stated') continue;
        const s = what.statement;
        const said = s.kind === 'two-candidates' ? s.said : s;
        if (said.kind !== 'observation' || said.force !== 'result' || said.doubtful !== null) {
          continue;
        }
        const fault =
          said.conditions.some((c) => c.present) ||
          said.verdict?.good === false ||
          said.compared === 'same';
        if (fault) expect(listed).toContain(s.id);
      }
    }),
    RUNS,
  );
});

test(named('R6 a later good word never makes a finding go away'), () => {
  fc.assert(
    fc.property(walk, check, (events, c) => {
      const before = fold(n.AIRCRAFT, events).findings.filter((f) => f.settled !== 'taken-back');
      const said = { ...n.said(c, n.good(), n.all), id: 'later', heard: 'h' };
      const what = { kind: 'stated' as const, statement: said };
      const after = fold(n.AIRCRAFT, [...events, n.event(events.length, events.length, what)]);
      const standing = after.findings.filter((f) => f.settled !== 'taken-back');
      expect(standing.map((f) => f.id)).toEqual(before.map((f) => f.id));
    }),
    RUNS,
  );
});

test(named('R7 a blanket never clears a finding and never answers a follow-up'), () => {
  fc.assert(
    fc.property(walk, station, (events, where) => {
      const before = fold(n.AIRCRAFT, events);
      const said = { ...n.blanket(where, n.good()), id: 'later', heard: 'h' };
      const what = { kind: 'stated' as const, statement: said };
      const after = fold(n.AIRCRAFT, [...events, n.event(events.length, events.length, what)]);
      expect(after.findings).toEqual(before.findings);
      const followUps = (c: Coverage) =>
        c.checks.filter((k) => k.required.by === 'follow-up').map((k) => [k.check, k.standing]);
      expect(followUps(after)).toEqual(followUps(before));
    }),
    RUNS,
  );
});

test(named('R9 no text ever calls an aircraft airworthy'), () => {
  fc.assert(
    fc.property(walk, (events) => {
      const coverage = fold(n.AIRCRAFT, events);
      expect(JSON.stringify([coverage, leftText(coverage)])).not.toMatch(
        /airworth|fit to fly|safe to fly/i,
      );
    }),
    RUNS,
  );
});

test(named('"what’s left" is never longer than ten seconds'), () => {
  fc.assert(
    fc.property(walk, fc.option(station), (events, where) => {
      const text = leftText(fold(n.AIRCRAFT, events), { station: where });
      // Counted here by itself: 2.5 words a second for 10 seconds.
      expect(text.split(/\s+/).filter((w) => /\w/.test(w)).length).toBeLessThanOrEqual(25);
    }),
    RUNS,
  );
});
