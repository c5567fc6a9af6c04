import type { FleetView, Outcome, SchoolServices, SchoolView } from '#screens';
import type { DeskWalk, DeviceLine, Person, Terms } from '#shared/school';
import { live } from './live.ts';

const AT = Date.UTC(2026, 8, 14, 6, 49);
const TERMS: Terms = { sound: true, days: 90, hear: ['instructor', 'chief'], phrases: 'own' };

const walk = (id: string, state: DeskWalk['state'], pilot: string | null): DeskWalk => ({
  id,
  aircraft: 'Rowan 2',
  catalogue: 'training-helicopter',
  pilot,
  instructor: null,
  begun: AT,
  last: AT,
  events: 214,
  station: 'Tail rotor and gearbox',
  state,
  open: true,
});
const person = (id: string, name: string, roles: Person['roles']): Person => ({
  id,
  name,
  roles,
  voice: true,
  students: [],
  gone: false,
});
const PEOPLE: readonly Person[] = [
  person('p1', 'M. Alder', ['pilot', 'instructor', 'maintenance', 'chief']),
  person('p2', 'P. Hazel', ['pilot']),
];
const DEVICES: readonly DeviceLine[] = [
  {
    device: 'd1',
    name: 'Hangar phone',
    person: null,
    desk: false,
    joined: AT,
    seen: AT,
    events: 214,
    shut: null,
    editions: [
      { catalogue: 'training-helicopter', name: 'Training helicopter', has: 2, waiting: 3 },
    ],
    refused: [{ at: AT, why: 'It comes from a device that is not of this school.' }],
  },
];
const FLEET: FleetView = {
  aircraft: [
    {
      id: 'a1',
      name: 'Rowan 2',
      was: ['Rowan 1'],
      catalogue: 'training-helicopter',
      retired: false,
      last: { begun: AT, state: 'signed' },
      near: [
        {
          name: 'Engine oil, level',
          value: 4.2,
          unit: '[qt_us]',
          low: 4,
          high: 6,
          past: false,
          at: AT,
        },
        {
          name: 'left Drive belts, play',
          value: 2,
          unit: '[in_i]',
          low: null,
          high: 1.5,
          past: true,
          at: AT,
        },
      ],
    },
    {
      id: 'a2',
      name: 'Rowan 9',
      was: [],
      catalogue: 'training-helicopter',
      retired: true,
      last: null,
      near: [],
    },
  ],
  unlisted: [{ name: 'Demo One', catalogue: 'training-helicopter' }],
};
const CODE = {
  code: '482 913',
  link: 'https://school.example/#/join/482913',
  drawn:
    'data:image/svg+xml,%3Csvg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 4 4"%3E%3Cpath d="M0 0h2v2h-2z"/%3E%3C/svg%3E',
  expires: AT,
};

/** A school as its desk sees it: people, devices, walks; or with `inside: false` one that is not joined yet. */
export function schoolDouble(inside = true): SchoolServices {
  const good = <T>(value: T): Promise<Outcome<T>> => Promise.resolve({ ok: true, value });
  const view: SchoolView = {
    about: { school: 's', name: 'Gliding and rotor school at the lake', passkeys: true },
    hello: inside
      ? {
          school: 's',
          name: 'Gliding and rotor school at the lake',
          now: AT,
          person: { id: 'p1', name: 'M. Alder' },
          roles: ['pilot', 'instructor', 'maintenance', 'chief'],
          terms: TERMS,
          head: null,
          until: AT,
          editions: [],
          lacks: [],
          pilots: PEOPLE.map((p) => p.name),
          aircraft: [],
          phrases: '0.0',
        }
      : null,
    sync: { state: 'away', why: 'The school cannot be reached.', retries: 1 },
    told: [{ event: 'e1', walk: null, why: 'One event was not taken.' }],
    news: 1,
    offers: inside
      ? [
          {
            aircraft: 'Rowan 2',
            lines: [
              {
                id: 'l1',
                speaker: 'M. Alder',
                phrase: 'the stinger',
                means: 'is the tail stinger',
                on: '2026-09-14',
                told: 'the stinger is the tail stinger',
                asked: null,
              },
            ],
            forgets: [],
          },
        ]
      : [],
  };
  return {
    view: live(view),
    look: () => Promise.resolve(),
    invited: () =>
      good({
        school: 's',
        name: 'Gliding and rotor school at the lake',
        person: 'P. Hazel',
        roles: ['pilot'],
        terms: TERMS,
      }),
    join: () => good(null),
    askIn: () => good(CODE),
    letDeskIn: () => good({ name: 'Desk 1' }),
    leave: () => good(null),
    sync: () => Promise.resolve(),
    walks: () =>
      good({
        walks: [walk('w-full', 'walking', 'P. Hazel'), walk('w-other', 'signed', null)],
        cursor: null,
      }),
    people: () => good(PEOPLE),
    addPerson: () => good(null),
    changePerson: () => good(null),
    eraseSoundOf: () => good({ recordings: 2 }),
    devices: () => good(DEVICES),
    shutOut: () => good(null),
    invite: () => good(CODE),
    setTerms: () => good(null),
    publish: () => good({ number: 3 }),
    signIn: () => good(null),
    passkeys: () =>
      good([
        {
          id: 'k1',
          person: { id: 'p1', name: 'M. Alder' },
          name: 'Office laptop',
          added: AT,
          used: AT,
          copied: false,
        },
        {
          id: 'k2',
          person: { id: 'p2', name: 'P. Hazel' },
          name: 'Key on the ring',
          added: AT,
          used: null,
          copied: true,
        },
      ]),
    addPasskey: () => good(null),
    removePasskey: () => good(null),
    fleet: () => good(FLEET),
    addAircraft: () => good(null),
    changeAircraft: () => good(null),
    erasePhrasesOf: () => good({ phrases: 3 }),
    takePhrases: () => good({ text: 'Rowan 2: 1 phrase brought in.' }),
    leavePhrases: () => good(null),
  };
}
