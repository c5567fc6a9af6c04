import { PRACTICE, type LastHeard, type Listening, type Settings } from '#screens';
import { catalogueOf, EVENTFUL, HALF_WAY, HARD_LANDING, ONE_SKIPPED } from '../cases.ts';
import { BOOK } from '../book.ts';
import { fakeServices, type Fake } from '../fake.ts';
import { madeWalk } from '../made.ts';
import { schoolDouble } from '../school-double.ts';
import { findingAt, photographed, PHOTOGRAPHS } from '../photograph.ts';

const HEARS: Listening = { state: 'listening', ear: 'embedded', sentAway: false };

const LAST: LastHeard = {
  event: 'e',
  words: 'oil line chafed through to the braid, ground it',
  made: ['Oil lines: chafed, ground it'],
  sort: 'finding',
  checks: ['oil-lines'],
};

/** The named situation that a test wants on the screen. */
export function stage(name: string, theme: string): Fake {
  const helicopter = catalogueOf('training-helicopter');
  const aeroplane = catalogueOf('training-aeroplane');
  const other = catalogueOf('appendix-d');
  const half = {
    id: 'w-half',
    catalogue: helicopter,
    events: madeWalk(helicopter, 'w-half', HALF_WAY),
  };
  const full = {
    id: 'w-full',
    catalogue: helicopter,
    events: madeWalk(helicopter, 'w-full', { ...EVENTFUL, answered: true }),
  };
  const earlier = {
    id: 'w-earlier',
    catalogue: helicopter,
    events: madeWalk(helicopter, 'w-earlier', {
      skip: new Set(['strobe', 'firewall', 'tail-gearbox-strip', 'cooling-fan']),
      pace: 2.4,
      begun: Date.UTC(2026, 8, 2, 7, 5),
    }),
  };
  const first = {
    id: 'w-first',
    catalogue: helicopter,
    events: madeWalk(helicopter, 'w-first', {
      skip: new Set(['strobe', 'firewall', 'mast-fairing', 'flex-coupling', 'antennas']),
      half: new Set(['boom-skin', 'swashplate']),
      pace: 6,
      begun: Date.UTC(2026, 7, 21, 9, 15),
    }),
  };
  const one = {
    id: 'w-one',
    catalogue: aeroplane,
    events: madeWalk(aeroplane, 'w-one', { ...ONE_SKIPPED, aircraft: 'Linnet 5' }),
  };
  const common = {
    catalogues: [helicopter, aeroplane, other],
    last: { ...LAST, finding: findingAt(helicopter, half.events, 'oil-lines') },
    question: null,
    squawks: BOOK,
    listening: HEARS,
    settings: { theme: theme as Settings['theme'] },
  };
  if (name === 'new') return fakeServices({ ...common, kept: [], walking: null });
  if (name === 'keyboard') {
    const none = { ...common, last: { ...LAST, words: 'cabin doors good' } };
    return fakeServices({ ...none, kept: [half], walking: null });
  }
  if (name === 'begin')
    return fakeServices({ ...common, kept: [full, one, earlier, first], walking: null });
  if (name === 'school' || name === 'no-school') {
    const house = fakeServices({ ...common, kept: [full, one, earlier, first], walking: null });
    return Object.assign(house, { school: schoolDouble(name === 'school') });
  }
  if (name === 'finished') {
    const left = {
      id: 'w-left',
      catalogue: helicopter,
      events: madeWalk(helicopter, 'w-left', { ...EVENTFUL, signed: false }),
    };
    return fakeServices({ ...common, kept: [left], walking: 'w-left' });
  }
  if (name === 'long') {
    // About 10,000 events: every check said 38 times over.
    const long = {
      id: 'w-long',
      catalogue: helicopter,
      events: madeWalk(helicopter, 'w-long', { ...EVENTFUL, times: 38, pace: 0.4, signed: false }),
    };
    return fakeServices({ ...common, kept: [long], walking: 'w-long' });
  }
  if (name === 'first') {
    const begun = madeWalk(helicopter, 'w-first-use', {
      until: 0,
      finished: false,
      signed: false,
      aircraft: PRACTICE,
    });
    const practice = { id: 'w-first-use', catalogue: helicopter, events: begun };
    return fakeServices({ ...common, kept: [practice], walking: 'w-first-use', last: null });
  }
  if (name === 'starting') {
    // Just begun: the ear is still being loaded, and the walk goes on by touch and typing.
    const begun = madeWalk(helicopter, 'w-begun', { until: 0, finished: false, signed: false });
    return fakeServices({
      ...common,
      kept: [{ id: 'w-begun', catalogue: helicopter, events: begun }],
      walking: 'w-begun',
      last: null,
      listening: { state: 'starting', ear: 'embedded', loaded: 0.42 },
    });
  }
  if (name === 'pictured') {
    const walks = [half, full].map((k) => ({
      ...k,
      events: photographed(helicopter, k.events, 'oil-lines'),
    }));
    return fakeServices({
      ...common,
      kept: walks,
      walking: 'w-half',
      pictures: PHOTOGRAPHS,
    });
  }
  if (name === 'held') {
    return fakeServices({
      ...common,
      kept: [half, full, one],
      walking: 'w-half',
      listening: { state: 'held', ear: 'embedded' },
    });
  }
  if (name === 'ask') {
    return fakeServices({
      ...common,
      kept: [half, full, one],
      walking: 'w-half',
      last: { event: 'e', words: 'bearing good', made: ['Upper or lower bearing?'], sort: 'asked' },
      question: {
        id: 'q1',
        about: 's1',
        kind: 'which-check',
        text: 'Upper or lower bearing?',
        options: [
          { label: 'Upper bearing', candidate: null },
          { label: 'Lower bearing', candidate: null },
        ],
      },
    });
  }
  if (name === 'demanded' || name === 'unkept') {
    const hard = {
      id: 'w-hard',
      catalogue: helicopter,
      events: madeWalk(helicopter, 'w-hard', HARD_LANDING),
    };
    return fakeServices({
      ...common,
      kept: [hard],
      walking: 'w-hard',
      last: {
        event: 'e',
        words: 'ripple in the boom underneath, ground it',
        made: ['Underside of the tail boom: ripple in the boom, ground it'],
        sort: 'finding',
      },
      also:
        name === 'unkept'
          ? {
              unkept: ['boom line good'],
              shown: 'Boom line: alignment',
            }
          : {
              // No voice: what was said is shown, and what stands above already is not said twice.
              shown:
                'Boom underside: boom ripple. Usually: ground it. Now also: Boom line; Drive; and 4 more. Maintenance decides.',
            },
    });
  }
  const tablet = {
    device: 'tablet-1',
    name: 'School tablet',
    words: 'cabin dial even fresh goose hollow island jacket',
    by: 'M. Alder',
    at: Date.UTC(2026, 8, 14, 6, 49),
    said: 12,
  };
  if (name === 'shared') {
    return fakeServices({
      ...common,
      kept: [half],
      walking: 'w-half',
      devices: {
        role: 'own',
        open: true,
        letIn: [{ ...tablet, device: 'tablet-2', words: 'a b c d e f g h', name: 'Desk 2' }],
        waiting: [{ device: '0192f0aa-77', events: 4 }],
      },
    });
  }
  if (name === 'guest') {
    return fakeServices({
      ...common,
      kept: [half],
      walking: 'w-half',
      also: { guest: true },
      devices: { role: 'guest', open: true, letIn: [tablet], waiting: [] },
    });
  }
  if (name === 'amended') {
    return fakeServices({
      ...common,
      kept: [full],
      walking: null,
      devices: { role: 'own', open: false, letIn: [tablet], waiting: [] },
      beside: [
        'Amended by M. Alder, 2026-09-14 08:31 UTC: “The dent on the left side was measured afterwards: 2 mm deep.” It stands under the key of this device, “amber field lift narrow ocean pilot river stone”.',
      ],
    });
  }
  if (name === 'told') {
    return fakeServices({
      ...common,
      kept: [full],
      walking: null,
      update: 'Version 1.1 is ready: the debrief opens faster.',
      offers: {
        trouble:
          'There is no room left on this device. Free some space, or save a backup and erase old sound.',
        warnings: [
          'There is room for about 12 minutes of sound. After that the walk goes on in words.',
          'This browser keeps only one copy of the record. After a crash it may throw it away: save a backup after the walk.',
        ],
      },
    });
  }
  if (name === 'deaf') {
    return fakeServices({
      ...common,
      kept: [half],
      walking: 'w-half',
      listening: {
        state: 'deaf',
        ear: 'embedded',
        why: 'The microphone is gone: unplugged or withdrawn. Plug it in or allow it again.',
      },
    });
  }
  return fakeServices({ ...common, kept: [half, full, one, earlier, first], walking: 'w-half' });
}
