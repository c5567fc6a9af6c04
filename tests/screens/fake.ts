import { askedOn } from '#shared/asked';
import { countOf, findingCounts } from '#shared/counts';
import type { Catalogue } from '#shared/catalogue';
import type { Coverage } from '#shared/coverage';
import type { Event } from '#shared/event';
import type { Question } from '#shared/question';
import type {
  Choices,
  EarCheckView,
  KeyView,
  LastHeard,
  LearnedBook,
  LearnedServices,
  Listening,
  Outcome,
  PictureServices,
  Pulse,
  Services,
  Settings,
  SquawkBook,
  Told,
  Update,
  WalkDevices,
  WalkLine,
  WalkRecord,
  WalkView,
} from '#screens';
import { fold } from '#reconcile';
import { codeOf } from '../../src/wire/key-code.ts';
import { live, type Settable } from './live.ts';

/** One call that a screen made, for the tests to read. */
export interface Call {
  readonly name: string;
  readonly with: readonly unknown[];
}

export interface FakeParts {
  readonly catalogues: readonly Catalogue[];
  /** Kept walks: catalogue and events. */
  readonly kept: readonly {
    readonly id: string;
    readonly catalogue: Catalogue;
    readonly events: readonly Event[];
  }[];
  /** The walk in progress, from one of the kept. */
  readonly walking: string | null;
  readonly listening: Listening;
  readonly last: LastHeard | null;
  readonly question: Question | null;
  readonly squawks: SquawkBook | null;
  readonly settings: Partial<Settings>;
  /** Anything else that the walk's view shows. */
  readonly also?: Partial<WalkView>;
  /** Anything else that the first screen shows. */
  readonly offers?: Partial<Choices>;
  /** Who adds to the kept walks, and what was said beside them. */
  readonly devices?: WalkDevices;
  readonly beside?: readonly string[];
  /** A new version that waits. */
  readonly update?: string;
  /** Photographs are taken and shown. */
  readonly pictures?: PictureServices;
}

export interface Fake extends Services {
  readonly calls: readonly Call[];
  /** Sounds that were to be played. */
  readonly played: readonly Call[];
  /** Events of a kept walk. */
  eventCount(walk: string): number;
  readonly parts: {
    readonly walk: Settable<WalkView | null>;
    readonly listening: Settable<Listening>;
    readonly pulse: Settable<Pulse>;
    readonly settings: Settable<Settings>;
    readonly choices: Settable<Choices>;
  };
}

const SETTINGS: Settings = {
  theme: 'light',
  ear: 'embedded',
  keepSound: true,
  talk: 'exceptions',
  earcons: true,
  pilot: 'M. Alder',
  certificate: '',
  paper: 'a4',
  language: 'en',
};

const learned = (id: string, phrase: string, means: string, told: string, asked?: string) => ({
  id,
  speaker: 'M. Alder',
  phrase,
  means,
  on: '2026-09-12',
  told,
  asked: asked ?? null,
});
const LEARNED: LearnedBook = {
  lines: [
    learned('1', 'pogo stick', 'is the tail skid', 'no, the tail skid'),
    learned(
      '2',
      'gin clear',
      'is good, of the main fuel sample',
      'yes',
      'Fuel, one thing: main fuel sample good. Right?',
    ),
    learned(
      '3',
      'scuffed',
      'at the skid tubes: note it',
      'note it',
      'Left skid tube, scuffed: ground it, defer it, watch it or note it?',
    ),
  ],
  forgotten: [learned('4', 'lumpy', 'is a fault', 'something wrong')],
};

/** In the middle of an ear check, after a phrase that was understood and one that was not. */
const CHECKING: EarCheckView = {
  state: 'listening',
  phrases: [
    { text: 'main rotor blades in good condition', understood: true },
    { text: 'oil level secure', understood: false },
    { text: 'drive belts no cracks', understood: null },
  ],
  at: 2,
  level: 0.4,
  sound: { faint: true, noisy: false },
  why: null,
  kept: true,
};

const fine: Outcome = { ok: true, value: null };

function record(
  { id, catalogue, events }: FakeParts['kept'][number],
  { devices, beside }: Pick<FakeParts, 'devices' | 'beside'>,
): WalkRecord {
  const coverage = fold(catalogue, events);
  return {
    id,
    aircraft: coverage.aircraft ?? '',
    catalogue,
    events,
    coverage,
    reviewed: coverage,
    seal:
      beside === undefined
        ? null
        : {
            whole: true,
            text: 'This walk is sealed and whole: 214 events, up to the signature, under the key of this device, “amber field lift narrow ocean pilot river stone”.',
            remarks: [],
            beside,
            versions: [],
          },
    ...(devices === undefined ? {} : { devices }),
  };
}

function key(name: string, words: string, own: boolean): KeyView {
  return {
    // As long as the real ones.
    device: '0192f0aa-77c1-7b52-9a3d-5f0e1c2d3b4a',
    publicKey: `${name.replace(/\W/g, '')}${'k'.repeat(43)}`.slice(0, 43),
    name,
    words,
    own,
    compared: own,
    since: own ? 0 : Date.UTC(2026, 8, 12),
    changed: !own,
  };
}

function line(r: WalkRecord): WalkLine {
  const first = r.events[0];
  const last = r.events.at(-1);
  return {
    id: r.id,
    aircraft: r.aircraft,
    catalogue: r.catalogue.id,
    catalogueName: r.catalogue.name,
    pilot: first?.what.kind === 'walk-begun' ? first.what.pilot : null,
    begun: first?.at ?? 0,
    seconds: last?.t ?? 0,
    state: r.coverage.signed !== null ? 'signed' : r.coverage.finished ? 'finished' : 'walking',
    open: countOf(r.coverage.checks).open,
    findings: findingCounts(r.coverage).findings,
    brought: false,
  };
}

/** Services over made-up walks and real folds; every intent is written down. */
export function fakeServices(parts: FakeParts): Fake {
  const calls: Call[] = [];
  const records = new Map(parts.kept.map((k) => [k.id, record(k, parts)]));
  const walking = parts.walking === null ? undefined : records.get(parts.walking);
  const settings = live<Settings>({ ...SETTINGS, ...parts.settings });
  const walk = live<WalkView | null>(walking === undefined ? null : viewOf(walking, parts));
  const listening = live<Listening>(parts.listening);
  const pulse = live<Pulse>({ level: 0.4, partial: '' });
  const choices = live<Choices>(choicesOf(parts, [...records.values()]));
  const opened = (id: string): Outcome<WalkRecord> => {
    const r = records.get(id);
    return r === undefined
      ? { ok: false, error: 'This walk is not on this device. Bring it in from a backup.' }
      : { ok: true, value: r };
  };
  const blob = (name: string): Outcome<{ name: string; blob: Blob }> => ({
    ok: true,
    value: { name, blob: new Blob(['made up']) },
  });
  const changeCoverage = (change: (c: Coverage) => Coverage) => {
    const now = walk.get();
    if (now !== null) walk.set({ ...now, coverage: change(now.coverage) });
  };
  const played: Call[] = [];
  const house: Fake = {
    calls,
    played,
    eventCount: (id) => records.get(id)?.events.length ?? 0,
    parts: { walk, listening, pulse, settings, choices },
    choices,
    settings,
    updates: live<Update | null>(
      parts.update === undefined ? null : { sentence: parts.update, apply: () => undefined },
    ),
    change: (part) => settings.set({ ...settings.get(), ...part }),
    walk,
    listening,
    pulse,
    begin: async () => {
      const first = [...records.values()][0];
      if (first === undefined) return { ok: false, error: 'There is no catalogue to begin with.' };
      walk.set(viewOf(first, parts));
      return { ok: true, value: first.id };
    },
    takeUp: async (id) => {
      const r = records.get(id);
      if (r !== undefined) walk.set(viewOf(r, parts));
      return { ok: true, value: id };
    },
    discard: async () => {
      walk.set(null);
      return fine;
    },
    hold: () => listening.set({ state: 'held', ear: 'embedded' }),
    resume: () => listening.set({ state: 'listening', ear: 'embedded', sentAway: false }),
    wrong: async () => fine,
    say: async (words) => {
      const now = walk.get();
      if (now !== null) {
        walk.set({
          ...now,
          last: { event: 'typed', words, made: ['Taken as typed'], sort: 'counted' },
        });
      }
      return fine;
    },
    answer: async () => {
      const now = walk.get();
      if (now !== null) walk.set({ ...now, question: null });
      return fine;
    },
    settle: async (check) => {
      changeCoverage((c) => ({
        ...c,
        checks: c.checks.map((x) => (x.check === check ? { ...x, standing: 'spoken' } : x)),
        open: c.open.filter((o) => o.check !== check),
      }));
      return fine;
    },
    setAside: async () => fine,
    setCircumstance: async () => fine,
    goTo: async (station) => {
      const now = walk.get();
      if (now !== null) walk.set({ ...now, station });
      return fine;
    },
    rate: async () => fine,
    placeFinding: async () => fine,
    finish: async () => {
      changeCoverage((c) => ({ ...c, finished: true }));
      return fine;
    },
    decide: async () => fine,
    sign: async () => fine,
    close: () => walk.set(null),
    walks: live<readonly WalkLine[]>([...records.values()].map(line)),
    open: async (id) => opened(id),
    reviewReading: async (id) => opened(id),
    reviewStanding: async (id, c) => {
      const r = records.get(id);
      if (r !== undefined) {
        records.set(id, {
          ...r,
          reviewed: {
            ...r.reviewed,
            checks: r.reviewed.checks.map((x) =>
              x.check === c.check ? { ...x, reviewed: c.standing } : x,
            ),
          },
        });
      }
      return opened(id);
    },
    agreement: (r) => {
      const marked = r.reviewed.checks.filter((c) => c.reviewed !== null);
      return {
        marked: marked.length,
        agreed: marked.filter((c) => c.reviewed === c.standing).length,
        missing: 0,
        kappa: null,
        interval: null,
      };
    },
    ...(parts.pictures === undefined ? {} : { pictures: writtenDown(parts.pictures, calls) }),
    forget: async () => fine,
    learned: writtenDown<LearnedServices>(
      {
        book: async () => ({ ok: true, value: LEARNED }),
        remember: async () => fine,
        give: async () => blob('phrasebook.json'),
        take: async () => ({
          ok: true,
          value: {
            aircraft: 'Rowan 2',
            text: 'Rowan 2: 2 phrases brought in, 1 to be asked about first.',
            asks: LEARNED.lines.slice(1, 2),
          },
        }),
      },
      calls,
    ),
    earCheck: {
      now: live<EarCheckView>(CHECKING),
      start: () => undefined,
      keep: () => Promise.resolve(),
      forget: () => Promise.resolve(),
      kept: () => true,
      stop: () => Promise.resolve(),
    },
    player: writtenDown(
      {
        at: live<{ recording: string; seconds: number } | null>(null),
        told: live<Told | null>(null),
        play: async () => fine,
        stop: () => undefined,
      },
      played,
    ),
    keys: async () => ({
      ok: true,
      value: [
        key('Hangar phone', 'amber field lift narrow ocean pilot river stone', true),
        key('School tablet', 'cabin dial even fresh goose hollow island jacket', false),
      ],
    }),
    nameDevice: async () => fine,
    compareKey: async () => fine,
    readKey: async (text) =>
      text.includes('Talkround key')
        ? {
            ok: true,
            value: key('School tablet', 'cabin dial even fresh goose hollow island jacket', false),
          }
        : { ok: false, error: 'These are not the words of a device’s code.' },
    letIn: async (id) => opened(id),
    handOver: async () => {
      walk.set(null);
      return fine;
    },
    walkFile: async () => blob('talkround.zip'),
    amend: async (id) => opened(id),
    // The real one: how fine it is decides whether a camera reads it.
    keyCode: async (of) => ({ ok: true, value: await codeOf(of) }),
    bringIn: async (file) => ({
      ok: false,
      error: `${file.name}: there is no speech in it. Choose a transcript or a sound file of a walk.`,
    }),
    backUp: async () => blob('talkround.zip'),
    eraseSound: async (person) => ({
      ok: true,
      value: { text: `Two recordings with ${person} in them were erased; the words stay.` },
    }),
    restore: async () => ({ ok: true, value: { text: 'Three walks came back.' } }),
    paper: async () => blob('sheet.pdf'),
    squawkBook: async (aircraft) => ({
      ok: true,
      value: parts.squawks ?? { aircraft, squawks: [], trends: [], same: [] },
    }),
    fileSquawk: async (_, said) => ({
      ok: true,
      value: {
        squawk: 'q-new',
        title: 'Left main tyre: flat spot',
        readBack: 'Left main tyre, flat spot, ground it.',
        unplaced: typeof said === 'string' && said.length > 60 ? said : null,
      },
    }),
    correctSquawk: async () => fine,
    squawkStep: async () => fine,
    squawkPaper: async () => blob('squawks.csv'),
    squawkAnswers: async () => ({
      ok: true,
      value: { text: 'Two squawks were marked as rectified.' },
    }),
  };
  return writtenDown(house, calls);
}

/** Every call of a method is put on the list, then made. */
function writtenDown<T extends object>(of: T, calls: Call[]): T {
  return new Proxy(of, {
    get(target, key) {
      const found: unknown = Reflect.get(target, key);
      if (typeof found !== 'function') return found;
      return (...words: unknown[]): unknown => {
        calls.push({ name: String(key), with: words });
        return Reflect.apply(found, target, words);
      };
    },
  });
}

function viewOf(r: WalkRecord, parts: FakeParts): WalkView {
  return {
    id: r.id,
    aircraft: r.aircraft,
    catalogue: r.catalogue,
    coverage: r.coverage,
    station: r.coverage.station,
    begun: r.events[0]?.at ?? 0,
    last: parts.last,
    question: parts.question,
    squawks: [],
    trouble: null,
    ...parts.also,
  };
}

function choicesOf(parts: FakeParts, records: readonly WalkRecord[]): Choices {
  const first = records[0];
  return {
    ready: true,
    catalogues: parts.catalogues.map((c) => ({
      id: c.id,
      name: c.name,
      kind: c.kind,
      edition: 'made-up-edition',
      stations: c.stations.length,
      checks: c.stations.reduce((n, s) => n + s.checks.length, 0),
      asked: askedOn(c.stations.flatMap((s) => s.checks)),
      notice: c.notice ?? null,
      cautions: c.cautions,
      circumstances: [
        ...new Set(
          c.stations.flatMap((s) =>
            s.checks.flatMap((k) => (Array.isArray(k.required) ? k.required : [])),
          ),
        ),
      ],
    })),
    aircraft:
      first === undefined
        ? []
        : [
            {
              aircraft: first.aircraft,
              catalogue: first.catalogue.id,
              hours: 1204.5,
              openSquawks: parts.squawks?.squawks.map((s) => s.title) ?? [],
            },
          ],
    last: first === undefined ? null : { aircraft: first.aircraft, catalogue: first.catalogue.id },
    unfinished: null,
    trouble: null,
    ...parts.offers,
  };
}
