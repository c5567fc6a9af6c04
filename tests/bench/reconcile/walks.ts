import { Catalogue, instancesOf, ONCE, type Check } from '#shared/catalogue';
import type { Draft, Event, Happening } from '#shared/event';
import type { Heard } from '#shared/heard';
import type { Observation } from '#shared/statement';

/** Mulberry32, public domain: the same seed gives the same walk everywhere. */
export function random(seed: number): () => number {
  let a = seed >>> 0;
  return () => {
    a = (a + 0x6d2b79f5) >>> 0;
    let t = Math.imul(a ^ (a >>> 15), a | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

/** An invented aircraft of so many checks, of all sorts that the rules treat differently. */
export function aircraft(checks: number): Catalogue {
  const perStation = 20;
  const stations = Math.ceil(checks / perStation);
  return Catalogue.parse({
    v: 1,
    id: `bench-${checks}`,
    name: `${checks} checks`,
    kind: 'other',
    signs: [
      { id: 'cracked', name: 'Crack', conditions: ['crack'], severity: 'ground' },
      { id: 'rubbed', name: 'Chafing', conditions: ['chafing'] },
      {
        id: 'struck',
        name: 'Strike',
        conditions: ['strike'],
        severity: 'ground',
        followUps: ['check-7'],
      },
    ],
    stations: Array.from({ length: stations }, (_, s) => ({
      id: `station-${s}`,
      name: `Station ${s}`,
      place: { x: (s * 37) % 100, y: (s * 13) % 100 },
      inOrder: s % 5 === 0,
      checks: Array.from({ length: Math.min(perStation, checks - s * perStation) }, (_, c) => {
        const i = s * perStation + c;
        return {
          id: `check-${i}`,
          name: `Part ${i}`,
          signs: ['cracked', 'rubbed', 'struck'],
          blanket: i % 3 === 0,
          ...(i % 4 === 1 ? { aspects: ['condition', 'security', 'leaks'] } : {}),
          ...(i % 5 === 2 ? { repeat: ['left', 'right'] } : {}),
          ...(i % 9 === 3
            ? {
                acts: ['measure'],
                measures: [{ id: 'level', name: 'Level', unit: '[qt_us]', low: 6 }],
              }
            : {}),
        };
      }),
    })),
  });
}

function observation(id: string, heard: string, check: Check, roll: () => number): Observation {
  const words = `${check.name} good`;
  const span = { from: 0, to: 3, words };
  const instances = instancesOf(check);
  const instance = instances[Math.floor(roll() * instances.length)] ?? ONCE;
  const fault = roll() < 0.03;
  const aspect = check.aspects[Math.floor(roll() * check.aspects.length)]?.id;
  return {
    v: 1,
    kind: 'observation',
    id,
    heard,
    span,
    why: ['named by its name'],
    force: roll() < 0.1 ? 'teaching' : 'result',
    about: { kind: 'check', check: check.id, which: { how: 'named', instances: [instance] }, span },
    candidates: [],
    verdict: fault
      ? null
      : { good: true, aspects: aspect === undefined ? [] : [aspect], actOnly: false, span },
    conditions: fault
      ? [
          {
            condition: roll() < 0.5 ? 'crack' : 'chafing',
            sign: null,
            aspects: aspect === undefined ? [] : [aspect],
            present: true,
            degree: null,
            extent: null,
            place: null,
            span,
          },
        ]
      : [],
    values:
      check.measures.length > 0 && roll() < 0.7
        ? [
            {
              measure: 'level',
              low: 7,
              high: 7,
              unit: '[qt_us]',
              inUnit: { low: 7, high: 7, unit: '[qt_us]' },
              step: null,
              approximate: false,
              trouble: null,
              span,
            },
          ]
        : [],
    acts: [],
    severity: null,
    amends: null,
    answers: null,
    compared: null,
    squawk: false,
    doubtful: null,
  };
}

/** What happens on a walk of so many events through that aircraft: an utterance and its statement in turn. */
export function happenings(catalogue: Catalogue, count: number, seed: number, seconds: number) {
  const roll = random(seed);
  const checks = catalogue.stations.flatMap((s) => s.checks);
  const step = seconds / count;
  const made: { t: number; what: Happening }[] = [
    {
      t: 0,
      what: {
        kind: 'walk-begun',
        aircraft: 'DEMO-1',
        catalogue: catalogue.id,
        edition: 'bench',
        circumstances: [],
        pilot: null,
        instructor: null,
        hours: null,
        listening: 'scripted',
        squawks: [],
      },
    },
  ];
  let last = '';
  for (let i = 1; made.length < count; i += 1) {
    const t = Math.round(made.length * step * 1000) / 1000;
    const heard = utterance(`h${i}`, t, step);
    made.push({ t, what: { kind: 'heard', heard } });
    if (made.length === count) break;
    // Mostly onwards through the aircraft, sometimes back.
    const at = roll() < 0.85 ? i : Math.floor(roll() * checks.length);
    const check = checks[at % checks.length];
    if (check === undefined) break;
    const statement = observation(`s${i}`, heard.id, check, roll);
    if (last !== '' && roll() < 0.02) statement.amends = last;
    last = statement.id;
    made.push({ t, what: { kind: 'stated', statement } });
  }
  return made;
}

function utterance(id: string, t: number, length: number): Heard {
  return {
    v: 1,
    id,
    by: 'scripted',
    text: 'part so and so is good',
    words: [],
    alternatives: [],
    from: t,
    to: t + length / 2,
    confidence: 0.9,
    sound: null,
    speaker: null,
    sentAway: false,
  };
}

/** The same as drafts for a store, with ids that sort in the order of the walk. */
export function draftsOf(made: ReturnType<typeof happenings>, walk: string): Draft[] {
  return made.map(({ t, what }, i) => ({
    v: 1,
    id: `01900000-0000-7000-8000-${String(i).padStart(12, '0')}`,
    walk,
    aircraft: 'DEMO-1',
    at: 1_700_000_000_000 + Math.round(t * 1000),
    t,
    what,
  }));
}

export function eventsOf(made: ReturnType<typeof happenings>): Event[] {
  return draftsOf(made, 'bench').map((d) => ({ ...d, device: 'd', prev: null, hash: '' }));
}
