import type { LastHeard, Listening, Settings } from '#screens';
import { catalogueOf, EVENTFUL, HALF_WAY, ONE_SKIPPED } from '../cases.ts';
import { fakeServices, type Fake } from '../fake.ts';
import { madeWalk } from '../made.ts';

const HEARS: Listening = { state: 'listening', ear: 'embedded', sentAway: false };

const LAST: LastHeard = {
  event: 'e',
  words: 'oil line chafed through to the braid, ground it',
  made: ['Oil lines: chafed, ground it'],
  sort: 'finding',
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
    events: madeWalk(helicopter, 'w-full', EVENTFUL),
  };
  const one = {
    id: 'w-one',
    catalogue: aeroplane,
    events: madeWalk(aeroplane, 'w-one', { ...ONE_SKIPPED, aircraft: 'Linnet 5' }),
  };
  const common = {
    catalogues: [helicopter, aeroplane, other],
    last: LAST,
    question: null,
    squawks: null,
    listening: HEARS,
    settings: { theme: theme as Settings['theme'] },
  };
  if (name === 'new') return fakeServices({ ...common, kept: [], walking: null });
  if (name === 'begin') return fakeServices({ ...common, kept: [full, one], walking: null });
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
  if (name === 'deaf') {
    return fakeServices({
      ...common,
      kept: [half],
      walking: 'w-half',
      listening: {
        state: 'deaf',
        ear: 'embedded',
        why: 'The microphone was taken away. Plug the headset in again, then touch “Listen again”.',
      },
    });
  }
  return fakeServices({ ...common, kept: [half, full, one], walking: 'w-half' });
}
