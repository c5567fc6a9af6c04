import type { Headset, ReadPicture } from '#capture';
import { FEWEST_MARKS, kappaOf } from '#reconcile';
import type { Letters } from '#report';
import type {
  BeginRequest,
  Choices,
  EarKind,
  Hearing,
  Listening,
  Live,
  Pulse,
  Services,
  WalkLine,
  WalkView,
} from '#screens';
import type { Talk, Voice } from '#speak';
import { quoted, type Store } from '#store';
import type { Catalogue } from '#shared/catalogue';
import type { Event } from '#shared/event';
import type { World } from '#shared/log';
import { believed } from '#shared/phrasebook';
import { beginByVoice, type BeginByVoiceParts } from './begin-by-voice.ts';
import { bringIn, type BringInParts } from './bring-in.ts';
import { rated, setAside, settled } from './by-hand.ts';
import { dictationWith } from './dictation.ts';
import { earChecking, type EarCheckWire } from './ear-check.ts';
import { heardBadly, lastEar } from './last-ear.ts';
import { earOutside, type EarNeeds } from './ear-needs.ts';
import { fleetNames } from './fleet-names.ts';
import { aircraftIn } from './hangar.ts';
import type { OpenedEar } from './hearing.ts';
import { keysOf } from './keys.ts';
import { lettingIn } from './let-in.ts';
import { linesOf } from './lines.ts';
import { liveValue } from './live-value.ts';
import { attempt, bad, good } from './outcome.ts';
import { paperOf } from './papers.ts';
import { phrasebookDesk } from './phrasebook.ts';
import { picturesHere, pictureServices } from './pictures.ts';
import { playerOf } from './player.ts';
import type { Readers } from './readers.ts';
import { begunIn, recordsOf, takesUp } from './records.ts';
import { isSame } from './names.ts';
import { nextAfter, repliesIn } from './replies.ts';
import { retelling, type RetellParts } from './retell.ts';
import { secondReading } from './second-reading.ts';
import { changeSettings, keptSettings, lastFrom } from './settings.ts';
import type { SchoolInside, schoolOf } from './school.ts';
import { choiceOf, openShelf } from './shelf.ts';
import { squawkDesk } from './squawk-desk.ts';
import { workshopHearing } from './workshop/hearing.ts';
import { ownVoice } from './workshop/own-voice.ts';
import { workshopDesk } from './workshop/workshop.ts';
import { unkeptSentence } from './unkept.ts';
import { keptVoices } from './voices.ts';
import { createWalking, type VoiceNeeds, type Walking } from './walking.ts';

export interface ServiceParts {
  readonly store: Store;
  readonly world: World;
  readonly readers: Readers;
  openEar(kind: EarKind, needs: EarNeeds): Promise<OpenedEar>;
  openVoice(needs: VoiceNeeds, settings: () => { talk: Talk; earcons: boolean }): Voice;
  /** The ear check on this device's microphone. Left out: not offered. */
  openEarCheck?(
    of: { readonly catalogue: Catalogue },
    told: Parameters<EarCheckWire['open']>[1],
  ): ReturnType<EarCheckWire['open']>;
  /** The browser's own recogniser on this device. Left out: not offered. */
  readonly localEar?: NonNullable<Services['localEar']>;
  readonly hearSound: BringInParts['hearSound'];
  /** The headset's button, where the platform passes it on. */
  readonly headset: Headset;
  /** The letters of printed papers, when one is made. */
  letters(): Promise<Letters>;
  /** Makes a photograph anew, smaller. Left out: no picture is taken. */
  readPicture?(file: File): Promise<ReadPicture>;
  /** The page: whether the microphone was allowed before, and whether it is in front. Left out: begun by touch. */
  readonly front?: Pick<BeginByVoiceParts, 'allowed' | 'visible'>;
  /** Tones and voice for the replay of a walk. Left out: its sound alone. */
  readonly aloud?: RetellParts;
  /** How a catalogue sounds while it is written. Left out: asked in this thread, and no voice. */
  readonly hearing?: Hearing;
  /** Address of the app, for a code that a phone scans. */
  readonly address?: string;
  readonly updates: NonNullable<Services['updates']>;
  readonly uncopied?: NonNullable<Services['uncopied']>;
  /** A school that this device may be in. Left out: none is offered. */
  school?(inside: SchoolInside): ReturnType<typeof schoolOf>;
  /** What is wrong with the record itself; null when nothing is. */
  readonly trouble: Live<string | null>;
}

/** A stranger's file does not change by what the next walk is counted. */
function heldBack(name: string): string {
  return `Another edition of ${quoted(name)} came with this file. Nobody here has compared the key of whoever made it, so it is kept for its walks and none begins with it. Look at it under Catalogues, and bring it back there if it is right.`;
}

const LAST_KEY = 'last-walk';
const LAST_EAR = 'last-ear';
/** Invented, so that the first visitor can begin at once. */
const DEMO_AIRCRAFT = 'Demo One';

/** Everything that the screens ask for, over the real stages. */
export async function createServices(parts: ServiceParts): Promise<Services> {
  const { store, world, readers, readPicture } = parts;
  const settings = await keptSettings(store);
  const voices = await keptVoices(store);
  const shelf = await openShelf(store);
  const records = recordsOf(store, world);
  const lines = linesOf(store);
  /** The list of the school, once there is one. */
  let fleet = fleetNames([]);
  const desk = squawkDesk({
    store,
    world,
    shelf,
    school: () => fleet,
    reporter: () => settings.get().pilot || null,
    paper: () => settings.get().paper,
    letters: () => parts.letters(),
  });
  const phrases = phrasebookDesk({
    store,
    world,
    catalogues(aircraft) {
      const id = choices.get().aircraft.find((a) => isSame(a.aircraft, aircraft))?.catalogue;
      const all = shelf.all().map((e) => e.catalogue);
      return [...all.filter((c) => c.id === id), ...all.filter((c) => c.id !== id)];
    },
    inWalk(aircraft) {
      const now = walking;
      const view = walk.get();
      const over =
        (view?.coverage.signed ?? null) !== null || view?.coverage.discarded !== undefined;
      // What is signed is final: it is written beside the walk.
      return now === null || over || view?.aircraft !== aircraft
        ? null
        : (what) => now.act(() => now.session.note(what));
    },
  });
  /** Events of the walk that was opened last: what was said in it belongs to its replay. */
  let replayed: readonly Event[] = [];
  const player = playerOf(
    { sound: (recording) => store.sound(recording, replayed) },
    parts.aloud && {
      in: (recording) => repliesIn(replayed, recording),
      next: (recording) => nextAfter(replayed, recording),
      retelling: retelling(parts.aloud),
    },
  );
  const walk = liveValue<WalkView | null>(null);
  const listening = liveValue<Listening>({ state: 'typed', ear: 'typed' });
  const pulse = liveValue<Pulse>({ level: 0, partial: '' });
  const walks = liveValue<readonly WalkLine[]>([]);
  const choices = liveValue<Choices>({
    ready: false,
    catalogues: [],
    aircraft: [],
    last: null,
    unfinished: null,
    trouble: null,
  });
  let walking: Walking | null = null;
  const outside = earOutside(world, (kind, needs) => parts.openEar(kind, needs));

  const voiceBegins =
    parts.front === undefined
      ? null
      : beginByVoice({
          ...parts.front,
          allowed: async () =>
            settings.get().ear === 'embedded' &&
            walking === null &&
            !(await store.recording()) &&
            (await parts.front?.allowed()) === true,
          openEar: (id) =>
            outside({ ...shelf.get(id), aircraft: '', claims: false, ear: () => 'embedded' }),
          readerFor: (id) => readers.grammarFor(shelf.get(id)),
          headset: parts.headset,
        });

  const workshop = await workshopDesk({
    store,
    world,
    shelf,
    hearing:
      parts.hearing ??
      workshopHearing({
        pronunciations: () => readers.pronunciations(),
        weights: () => readers.weights(),
        say: () => Promise.resolve(false),
      }),
    phrases,
    address: parts.address ?? '',
    changed: () => refresh(),
  });

  async function refresh(): Promise<void> {
    const [all, aircraft, last, room, ear] = await Promise.all([
      lines.list(),
      workshop.aircraft().then((given) => aircraftIn(store, shelf, given, fleet)),
      store.setting(LAST_KEY),
      store.room(),
      store.setting(LAST_EAR),
    ]);
    let listed = all;
    const left = () =>
      listed.find((l) => l.state === 'walking' && !l.brought && l.id !== walk.get()?.id) ?? null;
    const open = left();
    // Of all walks the first screen shows only what is open on the one that was left.
    if (open?.open === null) listed = await lines.count([open.id]);
    walks.set(listed);
    choices.set({
      ready: true,
      catalogues: shelf.all().map(choiceOf),
      aircraft,
      last: lastFrom(last),
      unfinished: left(),
      trouble: parts.trouble.get(),
      warnings: room.warnings,
      heardBadly: heardBadly(lastEar(ear)),
    });
  }

  function talk(): Talk {
    return settings.get().talk;
  }

  async function newWalking(
    edition: ReturnType<typeof shelf.get>,
    aircraft: string,
    /** Who walks and the hours, which go with what is found. */
    who: { readonly pilot: string | null; readonly hours: number | null },
    id?: string,
  ): Promise<Walking> {
    const walkId = id ?? world.id();
    const catalogue = edition.catalogue;
    const told = {
      aircraft,
      catalogue,
      reporter: who.pilot ?? (settings.get().pilot || null),
      found: 'pre-flight walk',
      hours: who.hours ?? (await desk.hoursOf(aircraft)),
    };
    const grammar = await readers.grammarFor(edition);
    return createWalking({
      store,
      world,
      catalogue,
      edition: edition.edition,
      reader: grammar,
      learning: {
        taught: (lines) => grammar.taught(lines),
        known: believed(await store.learnedEvents(), store.device),
      },
      walk: walkId,
      view: walk,
      listening,
      pulse,
      talk,
      openEar: (kind, hooks) =>
        parts.openEar(kind, {
          ...hooks,
          walk: walkId,
          edition: edition.edition,
          aircraft,
          catalogue,
          keepSound: settings.get().keepSound,
          claims: true,
          ear: () => settings.get().ear,
          voice: () => voices.of(who.pilot ?? settings.get().pilot),
        }),
      earWas: (counts) => void store.setSetting(LAST_EAR, counts).then(refresh),
      openVoice: (needs) => parts.openVoice(needs, settings.get),
      over: () => {
        if (walking?.session.walk === walkId) leave();
      },
      steps: (statement, heard, carried) => desk.steps(statement, heard, { ...told, carried }),
      atFinish: (coverage, events, carried) =>
        desk.atFinish(coverage, events, { ...told, carried }),
    });
  }

  /** Runs an intent of the walk in progress; a sentence when there is none. */
  function inWalk<T>(run: (w: Walking) => T): T | Promise<{ ok: false; error: string }> {
    return walking === null
      ? Promise.resolve({ ok: false as const, error: 'No walk is in progress.' })
      : run(walking);
  }

  /** One press holds or resumes, two say "next". */
  function listenToButton(of: Walking, aircraft: string): void {
    void parts.headset.on({
      toggle: () =>
        void of.act(() =>
          walk.get()?.coverage.held === true ? of.session.resume() : of.session.hold('touched'),
        ),
      next: () => void of.type('next'),
    });
    parts.headset.state(true, `Talkround: ${aircraft}`);
  }

  async function begin(request: BeginRequest) {
    return attempt<string>(async () => {
      await voiceBegins?.stop();
      const edition = shelf.get(request.catalogue);
      const aircraft = request.aircraft.trim() === '' ? DEMO_AIRCRAFT : request.aircraft.trim();
      const next = await newWalking(edition, aircraft, request);
      const carried = await desk.carried(aircraft, edition.catalogue);
      await walking?.stop();
      walking = next;
      await store.setSetting(LAST_KEY, { aircraft, catalogue: request.catalogue });
      const begun = await next.begin({ ...request, aircraft }, edition.edition, carried);
      listenToButton(next, aircraft);
      await refresh();
      return begun;
    });
  }

  function takeUp(id: string, how?: 'quietly') {
    return attempt<string>(async () => {
      await voiceBegins?.stop();
      const opened = await records.open(id);
      if (!opened.ok) return opened;
      const no = await takesUp(opened.value, store);
      if (no !== null) return bad(no);
      const { events, catalogue, aircraft } = opened.value;
      const begun = begunIn(events);
      const edition = begun?.edition ?? '';
      const who = { pilot: begun?.pilot ?? null, hours: begun?.hours ?? null };
      const next = await newWalking({ edition, catalogue }, aircraft, who, id);
      await walking?.stop();
      walking = next;
      if (how === undefined) listenToButton(next, aircraft);
      return next.takeUp(events, how === undefined ? settings.get().ear : 'typed');
    });
  }

  function leave(): void {
    const closing = walking;
    walking = null;
    parts.headset.off();
    void closing?.stop().then(refresh);
    walk.set(null);
    listening.set({ state: 'typed', ear: 'typed' });
  }

  const { openEarCheck } = parts;
  /** Who listened when something was to be read that is no result (R1). */
  let interrupted: Walking | null = null;
  const quiet = async (): Promise<void> => {
    await voiceBegins?.stop();
    if (walking === null || listening.get().state === 'typed') return;
    interrupted = walking;
    await walking.listenWith('typed');
  };
  const again = async (): Promise<void> => {
    const on = interrupted;
    interrupted = null;
    if (on !== null && on === walking) await on.listenWith(settings.get().ear);
  };
  const earCheck =
    openEarCheck &&
    earChecking({
      voices,
      open: (catalogue, told) => openEarCheck(shelf.get(catalogue), told),
      person: () => settings.get().pilot,
      quiet,
      again,
    });
  const ownVoiceHere =
    openEarCheck &&
    ownVoice({
      open: (catalogue, told) => openEarCheck({ catalogue }, told),
      voice: () => voices.of(settings.get().pilot),
      sounds: (text, names) => workshop.hearing.sounds(text, names),
      quiet,
      again,
    });

  void store.subscribe(({ events, own }) => {
    // A squawk makes an aircraft known that was never walked.
    if (!own || events.some((e) => e.what.kind === 'squawk')) void refresh();
  });
  parts.trouble.subscribe(() => choices.patch({ trouble: parts.trouble.get() }));
  await refresh();
  const letting = lettingIn({
    store,
    open: (id) => records.open(id),
    async write({ id, aircraft }, what) {
      if (walking?.session.walk === id) {
        const { session, act } = walking;
        return act(() => session.note(what));
      }
      const { now } = world;
      await store.append([{ v: 1, id: world.id(), walk: id, aircraft, at: now(), t: null, what }]);
      return good(null);
    },
    async leave(id) {
      if (walking?.session.walk !== id) return null;
      const waits = unkeptSentence(walking.session.unkept().length);
      if (waits !== null) return waits;
      await walking.stop();
      leave();
      return null;
    },
  });

  /** What another device added to the walk in progress is taken into it. */
  async function takeOver(): Promise<void> {
    const now = walking;
    // R10: words that wait to be written wait in this session.
    if (now === null || now.session.unkept().length > 0) return;
    const opened = await records.open(now.session.walk);
    if (!opened.ok || opened.value.coverage.signed !== null) return;
    const foreign = opened.value.events.filter((e) => e.device !== store.device).length;
    if (foreign === now.foreign(store.device)) return;
    await takeUp(now.session.walk, walk.get()?.coverage.finished === true ? 'quietly' : undefined);
  }

  const school = await parts.school?.({
    store,
    world,
    phrases,
    async takeOn(edition) {
      await shelf.takeOn(edition);
      await refresh();
    },
    catalogue: (id) => shelf.get(id).catalogue,
    async came() {
      await takeOver();
      takeList();
      await refresh();
    },
    finished: () => walk.get()?.coverage.finished === true,
    holder(name) {
      if (settings.get().pilot === '') changeSettings(settings, store, { pilot: name });
    },
  });

  function takeList(): void {
    fleet = fleetNames(school?.view.get().hello?.aircraft ?? []);
  }
  // What the school said last holds before it is asked again, and away from it.
  if ((school?.view.get().hello?.aircraft ?? []).length > 0) {
    takeList();
    await refresh();
  }

  return {
    ...(school === undefined ? {} : { school }),
    choices,
    settings,
    change(part) {
      changeSettings(settings, store, part);
      if (part.ear !== undefined) void walking?.listenWith(part.ear);
    },
    walk,
    listening,
    pulse,
    begin,
    takeUp,
    discard: (id, why) =>
      attempt(async () => {
        if (walk.get()?.id !== id) {
          const taken = await takeUp(id, 'quietly');
          if (!taken.ok) return taken;
        }
        const done = await inWalk((w) => w.act(() => w.session.discard('touched', why)));
        if (done.ok) leave();
        return done;
      }),
    hold: () => void inWalk((w) => w.act(() => w.session.hold('touched'))),
    resume: () =>
      void inWalk(async (w) => {
        if (listening.get().state === 'deaf') await w.listenAgain();
        if (walk.get()?.coverage.held === true) await w.act(() => w.session.resume());
        return good(null);
      }),
    phrasebook: (aircraft, speaker) =>
      attempt(async () => good(await phrases.of(aircraft, speaker))),
    forget: (line, aircraft) => attempt(() => phrases.forget(line, aircraft)),
    learned: {
      book: (aircraft) => attempt(async () => good(await phrases.book(aircraft))),
      remember: (line, aircraft) => attempt(() => phrases.remember(line, aircraft)),
      give: (aircraft) => attempt(() => phrases.give(aircraft)),
      take: (file, yes) => attempt(() => phrases.take(file, yes)),
    },
    wrong: () => inWalk((w) => w.takeBack(null)),
    takeBack: (event) => inWalk((w) => w.takeBack(event)),
    putOn: (event, check) => inWalk((w) => w.putOn(event, check)),
    say: (words) => inWalk((w) => w.type(words)),
    answer: (question, option) =>
      inWalk((w) => {
        const asked = walk.get()?.coverage.questions.find((q) => q.id === question);
        const label = (asked ?? w.session.question())?.options[option]?.label;
        return label === undefined
          ? Promise.resolve(bad('That question is not open any more.'))
          : w.type(label);
      }),
    settle: (check) =>
      inWalk((w) => {
        const coverage = walk.get()?.coverage.checks.find((c) => c.check === check);
        if (coverage === undefined) return Promise.resolve(bad('That check is not on this walk.'));
        return w.touch(`${nameOf(check)} good, by touch`, (heard) => settled(heard, coverage));
      }),
    setAside: (check, reason) =>
      inWalk((w) =>
        w.touch(`skip ${nameOf(check)}, ${reason}`, (heard) => setAside(heard, check, reason)),
      ),
    setCircumstance: (circumstance, holds) =>
      inWalk((w) => w.act(() => w.session.setCircumstance(circumstance, holds))),
    goTo: (station) => inWalk((w) => w.act(() => w.session.setStation(station))),
    rate: (finding, severity) =>
      inWalk((w) => w.touch(`${severity} it, by touch`, (h) => rated(h, finding, severity))),
    placeFinding: (statement, check, instances, by) =>
      inWalk((w) => w.act(() => w.session.place(statement, check, instances, by))),
    finish: () => inWalk((w) => w.act(() => w.session.finish({ how: 'touched' }))),
    decide: (decision, by, authority, note) =>
      inWalk((w) => w.act(() => w.session.decide(decision, by, authority, note))),
    sign: (name, certificate) =>
      inWalk(async (w) => {
        const signed = await w.act(() => w.session.sign(name, certificate));
        if (!signed.ok) return signed;
        return attempt(async () => {
          await w.stop();
          await refresh();
          return good(null);
        });
      }),
    close: leave,
    walks,
    count: (ids) => attempt(async () => good(walks.set(await lines.count(ids)))),
    open: (id) =>
      attempt(async () => {
        const opened = await records.open(id);
        if (opened.ok) replayed = opened.value.events;
        if (opened.ok) await school?.bringBytes(opened.value.events);
        return opened;
      }),
    reviewReading: (id, correction) => attempt(() => records.reviewReading(id, correction)),
    reviewStanding: (id, correction) => attempt(() => records.reviewStanding(id, correction)),
    amend: (id, by, note) => attempt(() => records.amend(id, by, note)),
    ...keysOf(store),
    ...letting,
    agreement({ reviewed: coverage }) {
      const marked = coverage.checks.filter((c) => c.reviewed !== null);
      const { kappa, interval } = kappaOf(coverage);
      return {
        marked: marked.length,
        agreed: marked.filter((c) => c.reviewed === c.standing).length,
        missing: Math.max(0, FEWEST_MARKS - marked.length),
        ...(marked.length < FEWEST_MARKS ? { kappa: null, interval: null } : { kappa, interval }),
      };
    },
    readAgain: (id) =>
      attempt(async () => {
        const opened = await records.open(id);
        if (!opened.ok) return opened;
        const edition = begunIn(opened.value.events)?.edition ?? '';
        const reader = await readers.grammarFor({ edition, catalogue: opened.value.catalogue });
        return good(await secondReading(opened.value, reader));
      }),
    ...(readPicture === undefined
      ? {}
      : {
          pictures: pictureServices({
            store,
            world,
            read: readPicture,
            walking: () => walking,
            findings: () => walk.get()?.coverage.findings ?? [],
          }),
        }),
    player,
    updates: parts.updates,
    ...(parts.uncopied === undefined ? {} : { uncopied: parts.uncopied }),
    eraseSound: (person) =>
      attempt(async () => {
        const recordings = await store.recordingsOf(person);
        for (const recording of recordings) {
          await store.eraseSound(recording, `asked for by or for ${person}`);
        }
        const count = recordings.length;
        const known = (await voices.forget(person))
          ? ' What the ear check found of this voice was forgotten too.'
          : '';
        return good({
          text:
            count === 0
              ? `No sound of ${person} is kept on this device.${known}`
              : `The sound of ${count} ${count === 1 ? 'recording' : 'recordings'} was erased; the words stay.${known}`,
        });
      }),
    bringIn: (file, into, progress, stop) =>
      attempt(async () => {
        const outcome = await bringIn(
          {
            store,
            world,
            shelf,
            offer: (text, name) => workshop.take(text, name),
            phrases,
            readerFor: (edition) => readers.grammarFor(edition),
            hearSound: parts.hearSound,
            keepSound: () => settings.get().keepSound,
            desk,
          },
          file,
          into,
          progress,
          stop,
        );
        await refresh();
        return outcome;
      }),
    backUp: () =>
      attempt(async () => {
        const { file, name } = await store.backup({ editions: shelf.own() });
        return good({ name, blob: file });
      }),
    restore: (file, progress, signal) =>
      attempt(async () => {
        const ways = signal === undefined ? {} : { signal };
        const restored = await store.restore(file, { onProgress: progress, ...ways });
        const held = await shelf.restored(restored.trusted);
        await takeOver();
        await workshop.refresh();
        await refresh();
        const text = [...restored.text, ...held.map(heldBack)].join('\n');
        return restored.ok || restored.events.added > 0 ? good({ text }) : bad(text);
      }),
    paper: (id, kind) =>
      attempt(async () => {
        const opened = await records.open(id);
        if (!opened.ok) return opened;
        const named = opened.value.reviewed.findings.flatMap((f) => f.pictures ?? []);
        const pictures = await picturesHere(store, named);
        return paperOf(opened.value, kind, settings.get().paper, pictures, parts.letters);
      }),
    dictation: dictationWith({
      world,
      openEar: outside,
      editionFor: (aircraft) => desk.editionFor(aircraft),
      settings: settings.get,
    }),
    workshop: ownVoiceHere === undefined ? workshop : { ...workshop, ownVoice: ownVoiceHere },
    ...(earCheck === undefined ? {} : { earCheck }),
    ...(parts.localEar === undefined ? {} : { localEar: parts.localEar }),
    ...(voiceBegins === null ? {} : { beginByVoice: voiceBegins }),
    squawkBook: (aircraft) => attempt(() => desk.book(aircraft)),
    fileSquawk: (aircraft, said, catalogue) => attempt(() => desk.file(aircraft, said, catalogue)),
    correctSquawk: (squawk, words, by, note) =>
      attempt(() => desk.correct(squawk, words, by, note)),
    squawkStep: (squawk, next) => attempt(() => desk.step(squawk, next)),
    squawkPaper: (aircraft, kind) => attempt(() => desk.paper(aircraft, kind)),
    squawkAnswers: (file, how) => attempt(() => desk.answers(file, how)),
  };

  function nameOf(check: string): string {
    const stations = walk.get()?.catalogue.stations ?? [];
    return stations.flatMap((s) => s.checks).find((c) => c.id === check)?.name ?? check;
  }
}
