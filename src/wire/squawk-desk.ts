import { heardOf } from '#capture';
import { jascName } from '#catalogue';
import { statesIn } from '#grammar';
import { freeFault, openedAsSaid, squawkSteps, writtenUp, type Told } from '#record';
import {
  isCarried,
  NEXT_STEPS,
  overdueText,
  recurringOf,
  sameFaults,
  squawksOf,
  trendsOf,
} from '#reconcile';
import {
  discrepancyCsv,
  discrepancyJson,
  discrepancyPdf,
  narrativeOf,
  proposeJasc,
  readAnswers,
  squawkTitle,
} from '#report';
import type { Dictated, FiledSquawk, Outcome, SquawkBook, SquawkPaper, SquawkView } from '#screens';
import type { Store } from '#store';
import type { Catalogue } from '#shared/catalogue';
import type { Coverage } from '#shared/coverage';
import type { Draft, Event, Happening } from '#shared/event';
import type { Heard } from '#shared/heard';
import type { World } from '#shared/log';
import { FIRST_SCENE } from '#shared/scene';
import { SEVERITY_WORDS } from '#shared/severity';
import type { Squawk, SquawkStep } from '#shared/squawk';
import type { Observation, Statement } from '#shared/statement';
import { joined } from './dictated.ts';
import { addressed } from './aircraft.ts';
import { hoursIn } from './hangar.ts';
import { bad, good } from './outcome.ts';
import type { Readers } from './readers.ts';
import type { CatalogueShelf, Edition } from './shelf.ts';
import { notTooLarge } from './text-file.ts';

export interface DeskParts {
  readonly store: Store;
  readonly world: World;
  readonly shelf: CatalogueShelf;
  readonly readers: Readers;
  reporter(): string | null;
  paper(): 'a4' | 'letter';
}

export type Carried = { squawk: string; check: string | null; text: string };

/** The squawks of every aircraft, for the screens and for the walk that carries them. */
export interface SquawkDesk {
  /** Open squawks of an aircraft, as its next walk with this catalogue begins with them. */
  carried(aircraft: string, catalogue: Catalogue): Promise<Carried[]>;
  /** The catalogue that an aircraft was last walked with. */
  editionFor(aircraft: string): Promise<Edition>;
  hoursOf(aircraft: string): Promise<number | null>;
  /** Steps that a statement on a walk demands. */
  steps(statement: Statement, heard: Heard, told: Told): readonly Happening[];
  /** What is written up when a walk is finished. */
  atFinish(coverage: Coverage, events: readonly Event[], told: Told): readonly Happening[];
  book(aircraft: string): Promise<Outcome<SquawkBook>>;
  file(aircraft: string, said: string | Dictated): Promise<Outcome<FiledSquawk>>;
  step(squawk: string, step: SquawkStep): Promise<Outcome>;
  paper(aircraft: string, kind: SquawkPaper): Promise<Outcome<{ name: string; blob: Blob }>>;
  answers(file: File): Promise<Outcome<{ text: string }>>;
}

export function squawkDesk(parts: DeskParts): SquawkDesk {
  const { store, world, shelf, readers } = parts;

  async function squawksAt(aircraft: string): Promise<readonly Squawk[]> {
    const events = await store.squawkEvents();
    return squawksOf(events).filter((s) => s.aircraft === aircraft);
  }

  async function hoursOf(aircraft: string): Promise<number | null> {
    return hoursIn(await store.walks()).get(aircraft) ?? null;
  }

  /** The catalogue that this aircraft was last walked with; the first one when it never was. */
  async function editionFor(aircraft: string): Promise<Edition> {
    const last = (await store.walks()).find((w) => w.aircraft === aircraft);
    const all = shelf.all();
    const found = all.find((e) => e.catalogue.id === last?.catalogue) ?? all[0];
    if (found === undefined) throw new Error('There is no catalogue on this device.');
    return found;
  }

  /** A name that was never walked may be misspelled or of another type: said, never guessed over. */
  async function guessedFor(aircraft: string, { catalogue }: Edition): Promise<string | null> {
    if ((await store.walks()).some((w) => w.aircraft === aircraft)) return null;
    return `${aircraft} was never walked on this device; it was read with “${catalogue.name}”, which may not be its own.`;
  }

  async function append(aircraft: string, happenings: readonly Happening[]): Promise<void> {
    const drafts = happenings.map((what): Draft => {
      const at = world.now();
      return { v: 1, id: world.id(), walk: null, aircraft, at, t: null, what };
    });
    await store.append(drafts);
  }

  function typed(words: string): Heard {
    const text = words.replace(/\s+/g, ' ').trim();
    return heardOf({ id: world.id(), by: 'typed', text, confidence: 1 });
  }

  /** Every aircraft that was walked or has a squawk. */
  async function known(): Promise<readonly string[]> {
    const squawks = squawksOf(await store.squawkEvents());
    return [...(await store.walks()), ...squawks].map((one) => one.aircraft);
  }

  /** What was dictated, its sound kept; where there was no room, it points at none. */
  async function withSound(
    whole: Heard,
    aircraft: string,
    sound: Dictated['sound'],
  ): Promise<Heard> {
    for (const chunk of sound) {
      const { kept } = await store.keepSound({ ...chunk, walk: null, aircraft, t: null });
      if (!kept) return { ...whole, sound: null };
    }
    return whole;
  }

  async function told(aircraft: string, catalogue: Catalogue): Promise<Told> {
    return {
      aircraft,
      catalogue,
      reporter: parts.reporter(),
      found: null,
      hours: await hoursOf(aircraft),
      carried: [],
    };
  }

  async function flightsSince(squawk: Squawk): Promise<number> {
    const deferred = squawk.history.findLast((h) => h.step.step === 'deferred');
    const walks = await store.walks();
    return walks.filter(
      (w) => w.aircraft === squawk.aircraft && w.finished && w.begun > (deferred?.at ?? 0),
    ).length;
  }

  async function overdueOf(squawk: Squawk): Promise<string | null> {
    return overdueText(squawk, {
      now: world.now(),
      hours: await hoursOf(squawk.aircraft),
      flights: await flightsSince(squawk),
    });
  }

  async function view(squawk: Squawk, edition: Edition): Promise<SquawkView> {
    return {
      squawk,
      title: squawkTitle(squawk.fault, edition.catalogue),
      narrative: narrativeOf(squawk, edition.catalogue),
      jasc: proposeJasc(squawk.fault, edition.catalogue, jascName),
      overdue: await overdueOf(squawk),
      next: NEXT_STEPS[squawk.state],
    };
  }

  return {
    editionFor,
    hoursOf,
    async carried(aircraft, catalogue) {
      const carried = (await squawksAt(aircraft)).filter(isCarried);
      return Promise.all(
        carried.map(async (s) => {
          const title = squawkTitle(s.fault, catalogue);
          const runOut = (await overdueOf(s)) === null ? '' : ', deferral run out';
          const done = s.state === 'rectified' ? ', rectified' : '';
          return { squawk: s.id, check: s.fault.check, text: `${title}${runOut}${done}` };
        }),
      );
    },
    steps: squawkSteps,
    atFinish(coverage, events, who) {
      const statements = new Map<string, Observation>();
      const known = new Set<string>();
      const sounds = new Map<string, Heard['sound']>();
      for (const { what } of events) {
        if (what.kind === 'squawk') known.add(what.squawk);
        if (what.kind === 'heard') sounds.set(what.heard.id, what.heard.sound);
        if (what.kind === 'stated' && what.statement.kind === 'observation') {
          statements.set(what.statement.id, what.statement);
        }
      }
      return writtenUp(coverage, statements, known, who, sounds);
    },
    async book(aircraft) {
      const edition = await editionFor(aircraft);
      const squawks = await squawksAt(aircraft);
      const views = await Promise.all(squawks.map((s) => view(s, edition)));
      const events = await store.aircraftEvents(aircraft);
      return good({
        aircraft,
        guessed: await guessedFor(aircraft, edition),
        squawks: views.reverse(),
        trends: [...trendsOf(events, edition.catalogue), ...recurringOf(events, edition.catalogue)],
        same: sameFaults(squawks),
      });
    },
    async file(picked, said) {
      const whole = typeof said === 'string' ? typed(said) : joined(said.heard, () => world.id());
      const text = whole?.text.replace(/\s+/g, ' ').trim() ?? '';
      const { aircraft, rest, told: doubt } = addressed(text, picked, await known());
      if (whole === null || rest === '') return bad('Say or type what is wrong, and where.');
      if (aircraft === '') return bad('Say which aircraft it is on, then file it.');
      const heard = typeof said === 'string' ? whole : await withSound(whole, aircraft, said.sound);
      const edition = await editionFor(aircraft);
      const grammar = await readers.grammarFor(edition);
      const { statements } = grammar.read(asSquawk(heard, text, rest), FIRST_SCENE);
      const who = await told(aircraft, edition.catalogue);
      const steps = statements.flatMap((s) => squawkSteps(s, heard, who));
      const filed =
        steps.length > 0
          ? steps
          : [openedAsSaid(heard, who, { ...freeFault(rest, statesIn(rest), null), words: text })];
      await append(aircraft, [
        { kind: 'heard', heard },
        ...statements.map((statement): Happening => ({ kind: 'stated', statement })),
        ...filed,
      ]);
      const first = filed[0];
      if (first?.step.step !== 'opened') return bad('That could not be filed.');
      const { fault } = first.step;
      const title = squawkTitle(fault, edition.catalogue);
      const severity = fault.severity === null ? '' : ` ${SEVERITY_WORDS[fault.severity]}.`;
      const read = fault.part === null ? `Filed as you said it: ${text}` : `${title}.${severity}`;
      const guessed = await guessedFor(aircraft, edition);
      return good({
        squawk: first.squawk,
        aircraft,
        title,
        readBack: [read, doubt, guessed].filter((t) => t !== null).join(' '),
        unplaced: fault.check === null ? text : null,
      });
    },
    async step(squawk, step) {
      const known = squawksOf(await store.squawkEvents()).find((s) => s.id === squawk);
      if (known === undefined) return bad('There is no such squawk on this device.');
      await append(known.aircraft, [{ kind: 'squawk', squawk, step }]);
      return good(null);
    },
    async paper(aircraft, kind) {
      const edition = await editionFor(aircraft);
      const { catalogue } = edition;
      const squawks = await squawksAt(aircraft);
      const overdue = new Map<string, string>();
      for (const squawk of squawks) {
        const text = await overdueOf(squawk);
        if (text !== null) overdue.set(squawk.id, text);
      }
      const guessed = await guessedFor(aircraft, edition);
      const made = { aircraft, squawks, catalogue, at: world.now(), overdue, guessed };
      const name = `${aircraft.replace(/[^\w-]+/g, '-')}-discrepancies.${kind}`;
      if (kind === 'csv') return good({ name, blob: textBlob(discrepancyCsv(made), 'text/csv') });
      if (kind === 'json') {
        return good({ name, blob: textBlob(discrepancyJson(made), 'application/json') });
      }
      const pdf = await discrepancyPdf(made, parts.paper());
      return good({ name, blob: new Blob([pdf], { type: 'application/pdf' }) });
    },
    async answers(file) {
      const small = notTooLarge(file);
      if (!small.ok) return small;
      const squawks = squawksOf(await store.squawkEvents());
      const read = readAnswers(await file.text(), file.name, squawks);
      if (!read.ok) return bad(read.error);
      for (const { aircraft, squawk, step } of read.steps) {
        await append(aircraft, [{ kind: 'squawk', squawk, step }]);
      }
      return good({ text: read.text });
    },
  };
}

/**
 * As it is read: with "squawk" before it, which goes without saying here. Without
 * the times of its words, since a pause for thought would end the sentence there,
 * and part and condition would be read as two things.
 */
function asSquawk(heard: Heard, text: string, rest: string): Heard {
  const whole = (said: string) => (/^squawk\b/i.test(said.trim()) ? said : `squawk, ${said}`);
  // Readings of a sentence that begins with a registration are not cut as it was.
  const others = text === rest ? heard.alternatives : [];
  const alternatives = others.map((a) => ({ ...a, text: whole(a.text) }));
  return { ...heard, text: whole(rest), words: [], alternatives };
}

function textBlob(text: string, type: string): Blob {
  return new Blob([text], { type });
}
