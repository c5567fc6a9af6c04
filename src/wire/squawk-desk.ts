import { decodeText, heardOf } from '#capture';
import { jascName } from '#catalogue';
import { amountsIn, severityIn, statesIn } from '#grammar';
import { faultsIn, openedAsSaid, squawkSteps, writtenUp, type Told } from '#record';
import {
  isCarried,
  NEXT_STEPS,
  overdueText,
  recurringOf,
  reviewsIn,
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
  type Letters,
} from '#report';
import type {
  AnswersTaken,
  AnswersWay,
  AskedCatalogue,
  Dictated,
  FiledSquawk,
  Outcome,
  SquawkBook,
  SquawkPaper,
  SquawkView,
} from '#screens';
import type { Store } from '#store';
import type { Catalogue } from '#shared/catalogue';
import type { Coverage, Review } from '#shared/coverage';
import type { Draft, Event, Happening } from '#shared/event';
import type { Heard } from '#shared/heard';
import type { World } from '#shared/log';
import { severityWords } from '#shared/severity';
import type { Squawk, SquawkStep } from '#shared/squawk';
import type { Observation, Statement } from '#shared/statement';
import { joined } from './dictated.ts';
import { addressed } from './aircraft.ts';
import type { FleetNames } from './fleet-names.ts';
import { doneWords, hoursIn } from './hangar.ts';
import { isSame } from './names.ts';
import { bad, good } from './outcome.ts';
import { picturesBySquawk, picturesHere } from './pictures.ts';
import type { CatalogueShelf, Edition } from './shelf.ts';
import { notTooLarge } from './text-file.ts';

export interface DeskParts {
  readonly store: Store;
  readonly world: World;
  readonly shelf: CatalogueShelf;
  reporter(): string | null;
  /** The catalogue that came with this aircraft, where one did. */
  given?(aircraft: string): string | undefined;
  /** The list of the school, whose aircraft have had other names. Left out: none. */
  readonly school?: () => FleetNames;
  paper(): 'a4' | 'letter';
  letters(): Promise<Letters>;
}

export type Carried = { squawk: string; check: string | null; text: string };

/** The squawks of every aircraft, for the screens and for the walk that carries them. */
export interface SquawkDesk {
  /** Open squawks of an aircraft, as its next walk with this catalogue begins with them. */
  carried(aircraft: string, catalogue: Catalogue): Promise<Carried[]>;
  /** The catalogue to hear an aircraft's words with: its own, or the first one. */
  editionFor(aircraft: string): Promise<Edition>;
  hoursOf(aircraft: string): Promise<number | null>;
  /** Steps that a statement on a walk demands. */
  steps(statement: Statement, heard: Heard, told: Told): readonly Happening[];
  /** What is written up when a walk is finished. */
  atFinish(coverage: Coverage, events: readonly Event[], told: Told): readonly Happening[];
  book(aircraft: string): Promise<Outcome<SquawkBook>>;
  file(
    aircraft: string,
    said: string | Dictated,
    catalogue?: string | null,
  ): Promise<Outcome<FiledSquawk | AskedCatalogue>>;
  correct(squawk: string, words: string, by: string, note: string): Promise<Outcome>;
  step(squawk: string, step: SquawkStep): Promise<Outcome>;
  paper(aircraft: string, kind: SquawkPaper): Promise<Outcome<{ name: string; blob: Blob }>>;
  answers(file: File, how?: AnswersWay): Promise<Outcome<AnswersTaken>>;
}

export function squawkDesk(parts: DeskParts): SquawkDesk {
  const { store, world, shelf } = parts;
  const same = (a: string, b: string) => parts.school?.().same(a, b) ?? isSame(a, b);

  async function squawksAt(aircraft: string): Promise<readonly Squawk[]> {
    const events = await store.squawkEvents();
    return squawksOf(events).filter((s) => same(s.aircraft, aircraft));
  }

  async function hoursOf(aircraft: string): Promise<number | null> {
    const hours = hoursIn(await store.walks());
    const known = [...hours.keys()].find((name) => same(name, aircraft));
    return known === undefined ? null : (hours.get(known) ?? null);
  }

  /**
   * The catalogue of an aircraft: that of the school's list, else of its last walk,
   * else what was answered when its first squawk was filed. undefined: nobody has said yet; null: it was
   * said that none of them is its own.
   */
  async function knownFor(aircraft: string): Promise<Edition | null | undefined> {
    const listed = parts.school?.().list.find((a) => same(a.name, aircraft))?.catalogue;
    const walked = (await store.walks()).find((w) => same(w.aircraft, aircraft))?.catalogue;
    const answered = (await squawksAt(aircraft)).flatMap(({ history }) =>
      history.flatMap(({ step }) =>
        step.step === 'opened' && step.catalogue !== undefined ? [step.catalogue] : [],
      ),
    );
    const given =
      listed ?? walked ?? (answered.length === 0 ? parts.given?.(aircraft) : answered.at(-1));
    if (given === undefined) return undefined;
    return shelf.all().find((e) => e.catalogue.id === given) ?? null;
  }

  /** To hear with: a recogniser has to listen for something. Never read with it. */
  async function editionFor(aircraft: string): Promise<Edition> {
    const found = (await knownFor(aircraft)) ?? shelf.all()[0];
    if (found === undefined) throw new Error('There is no catalogue on this device.');
    return found;
  }

  /** No catalogue was told to be its own: said, never guessed over. */
  async function guessedFor(aircraft: string): Promise<string | null> {
    if (await knownFor(aircraft)) return null;
    return `${aircraft} has no catalogue on this device: its squawks stand in the words they were said in.`;
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

  /** Everything of an aircraft, under each way its registration was written. */
  async function eventsOf(aircraft: string): Promise<readonly Event[]> {
    const names = [...new Set(await known())].filter((name) => same(name, aircraft));
    return (await Promise.all(names.map((name) => store.aircraftEvents(name)))).flat();
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

  async function told(aircraft: string) {
    return {
      aircraft,
      reporter: parts.reporter(),
      found: null,
      hours: await hoursOf(aircraft),
    };
  }

  function faultsOf(words: string, catalogue: Catalogue | null) {
    const severity = severityIn(words);
    return faultsIn(words, { catalogue, severity, states: statesIn, amounts: amountsIn });
  }

  async function flightsSince(squawk: Squawk): Promise<number> {
    const deferred = squawk.history.findLast((h) => h.step.step === 'deferred');
    const walks = await store.walks();
    return walks.filter(
      (w) => same(w.aircraft, squawk.aircraft) && w.finished && w.begun > (deferred?.at ?? 0),
    ).length;
  }

  async function overdueOf(squawk: Squawk): Promise<string | null> {
    return overdueText(squawk, {
      now: world.now(),
      hours: await hoursOf(squawk.aircraft),
      flights: await flightsSince(squawk),
    });
  }

  async function view(
    squawk: Squawk,
    catalogue: Catalogue | null,
    reviews: ReadonlyMap<string, readonly Review[]>,
  ): Promise<SquawkView> {
    return {
      reviews: reviews.get(squawk.id) ?? [],
      squawk,
      title: squawkTitle(squawk.fault, catalogue),
      narrative: narrativeOf(squawk, catalogue),
      jasc: proposeJasc(squawk.fault, catalogue, jascName),
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
          const text = `${title}${runOut}${doneWords(s.state)}`;
          return { squawk: s.id, check: s.fault.check, text };
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
      const catalogue = (await knownFor(aircraft))?.catalogue ?? null;
      const squawks = await squawksAt(aircraft);
      const events = await eventsOf(aircraft);
      const reviews = reviewsIn(events, catalogue);
      const drawn = await picturesBySquawk(store, squawks);
      const made = await Promise.all(squawks.map((s) => view(s, catalogue, reviews)));
      const views = made.map((v) => ({ ...v, pictures: drawn.get(v.squawk.id) ?? [] }));
      return good({
        aircraft,
        guessed: await guessedFor(aircraft),
        squawks: views.reverse(),
        trends:
          catalogue === null
            ? []
            : [...trendsOf(events, catalogue), ...recurringOf(events, catalogue)],
        same: sameFaults(squawks),
      });
    },
    async file(picked, said, answered) {
      const whole = typeof said === 'string' ? typed(said) : joined(said.heard, () => world.id());
      const text = whole?.text.replace(/\s+/g, ' ').trim() ?? '';
      const { aircraft, rest, told: doubt } = addressed(text, picked, await known());
      if (whole === null || rest === '') return bad('Say or type what is wrong, and where.');
      if (aircraft === '') return bad('Say which aircraft it is on, then file it.');
      const its = await knownFor(aircraft);
      // Asked once: what is answered goes into the log with the squawk.
      if (its === undefined && answered === undefined) return good({ asks: 'catalogue', aircraft });
      const edition =
        its === undefined ? (shelf.all().find((e) => e.catalogue.id === answered) ?? null) : its;
      const catalogue = edition?.catalogue ?? null;
      const heard = typeof said === 'string' ? whole : await withSound(whole, aircraft, said.sound);
      const words = rest.replace(/^squawk\b[\s,:]*/i, '');
      if (words === '') return bad('Say or type what is wrong, and where.');
      const faults = faultsOf(words, catalogue);
      const who = await told(aircraft);
      const filed = faults.map((fault, i) =>
        openedAsSaid(
          heard,
          who,
          faults.length === 1 ? { ...fault, words: text } : fault,
          i,
          catalogue?.id ?? null,
        ),
      );
      await append(aircraft, [{ kind: 'heard', heard }, ...filed]);
      const first = filed[0];
      if (first?.step.step !== 'opened') return bad('That could not be filed.');
      const [title = '', ...also] = faults.map((fault) => squawkTitle(fault, catalogue));
      const { fault } = first.step;
      const severity =
        fault.severity === null ? '' : ` ${severityWords(fault.severity, fault.severityBy)}.`;
      const read = fault.part === null ? `Filed as you said it: ${text}` : `${title}.${severity}`;
      const second = also.length === 0 ? null : `And ${also.join('; ')}.`;
      return good({
        squawk: first.squawk,
        aircraft,
        title,
        ...(also.length === 0 ? {} : { also }),
        readBack: [read, second, doubt].filter((t) => t !== null).join(' '),
        unplaced: fault.check === null ? text : null,
      });
    },
    async correct(squawk, words, by, note) {
      const known = squawksOf(await store.squawkEvents()).find((s) => s.id === squawk);
      if (known === undefined) return bad('There is no such squawk on this device.');
      if (words === '' || by === '') return bad('A correction needs words and a name.');
      const catalogue = (await knownFor(known.aircraft))?.catalogue ?? null;
      const heard = typed(words);
      const [fault, ...more] = faultsOf(words, catalogue);
      if (fault === undefined) return bad('Say what is wrong, and where.');
      // Two things in one correction would lose one of them: it is told as one, in its words.
      const whole = more.length === 0 ? fault : { ...fault, words };
      const told =
        whole.severityBy === 'said' || known.fault.severity === null ? whole : known.fault;
      const severity = {
        severity: told.severity,
        ...(told.severityBy === undefined ? {} : { severityBy: told.severityBy }),
      };
      await append(known.aircraft, [
        { kind: 'heard', heard },
        {
          kind: 'squawk',
          squawk,
          step: {
            step: 'corrected',
            fault: { ...whole, ...severity },
            by,
            note: note === '' ? null : note,
          },
        },
      ]);
      return good(null);
    },
    async step(squawk, step) {
      const known = squawksOf(await store.squawkEvents()).find((s) => s.id === squawk);
      if (known === undefined) return bad('There is no such squawk on this device.');
      await append(known.aircraft, [{ kind: 'squawk', squawk, step }]);
      return good(null);
    },
    async paper(aircraft, kind) {
      const catalogue = (await knownFor(aircraft))?.catalogue ?? null;
      const squawks = await squawksAt(aircraft);
      const overdue = new Map<string, string>();
      for (const squawk of squawks) {
        const text = await overdueOf(squawk);
        if (text !== null) overdue.set(squawk.id, text);
      }
      const guessed = await guessedFor(aircraft);
      const reviews = reviewsIn(await eventsOf(aircraft), catalogue);
      const pictures = await picturesBySquawk(store, squawks);
      const made = {
        aircraft,
        squawks,
        catalogue,
        at: world.now(),
        overdue,
        guessed,
        reviews,
        pictures,
        picturesHere: await picturesHere(store, [...pictures.values()].flat()),
      };
      const name = `${aircraft.replace(/[^\w-]+/g, '-')}-discrepancies.${kind}`;
      if (kind === 'csv') return good({ name, blob: textBlob(discrepancyCsv(made), 'text/csv') });
      if (kind === 'json') {
        return good({ name, blob: textBlob(discrepancyJson(made), 'application/json') });
      }
      const pdf = await discrepancyPdf(made, {
        size: parts.paper(),
        letters: await parts.letters(),
      });
      return good({ name, blob: new Blob([pdf], { type: 'application/pdf' }) });
    },
    async answers(file, how = {}) {
      const small = notTooLarge(file);
      if (!small.ok) return small;
      const bytes = new Uint8Array(await file.arrayBuffer());
      const decoded = decodeText(bytes, file.name);
      if (!decoded.ok) return bad(decoded.error);
      const squawks = squawksOf(await store.squawkEvents());
      const read = readAnswers(decoded.text, file.name, squawks, {
        now: world.now(),
        order: how.order ?? null,
      });
      if (!read.ok)
        return read.asks === undefined ? bad(read.error) : good({ text: '', asks: read.asks });
      const doubted = how.doubted === true ? read.doubted.flatMap((d) => d.steps) : [];
      for (const { aircraft, squawk, step } of [...read.steps, ...read.notes, ...doubted]) {
        await append(aircraft, [{ kind: 'squawk', squawk, step }]);
      }
      const notes = read.notes.length === 0 ? null : addedWords(read.notes.length);
      return good({
        text: [read.text, notes, codingWords(bytes, file.name, decoded.note)]
          .filter((t) => t !== null)
          .join(' '),
        ...(how.doubted === true || read.doubted.length === 0
          ? {}
          : { doubts: read.doubted.map((d) => d.why) }),
      });
    },
  };
}

function addedWords(count: number): string {
  return count === 1
    ? 'What stands in its own columns was added to one squawk.'
    : `What stands in its own columns was added to ${String(count)} squawks.`;
}

/** In what letters the file was written, where that is not what everybody writes today; null otherwise. */
function codingWords(bytes: Uint8Array, file: string, note: string | null): string | null {
  if (note !== null) return `${file} ${note}.`;
  const [one, two] = bytes;
  const wide = (one === 0xff && two === 0xfe) || (one === 0xfe && two === 0xff);
  return wide ? `${file} was read as UTF-16.` : null;
}

function textBlob(text: string, type: string): Blob {
  return new Blob([text], { type });
}
