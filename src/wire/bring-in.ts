import { soundTooLarge, transcriptHeard } from '#capture';
import { isParcel, outlineOf } from '#catalogue';
import type { BroughtWalk, Outcome, Progress } from '#screens';
import type { Store } from '#store';
import type { Heard } from '#shared/heard';
import type { World } from '#shared/log';
import { isPhrasebook } from '#shared/phrasebook-file';
import type { Reader } from '#shared/reader';
import type { PhrasebookDesk } from './phrasebook.ts';
import type { CatalogueShelf, Edition } from './shelf.ts';
import type { SquawkDesk } from './squawk-desk.ts';
import { bad, good } from './outcome.ts';
import { notTooLarge } from './text-file.ts';
import { walkThrough } from './whole-walk.ts';

export interface BringInParts {
  readonly store: Store;
  readonly world: World;
  readonly shelf: CatalogueShelf;
  /** Lets a catalogue wait for a yes: one that was given away, or that would take the place of another. */
  readonly offer: (text: string, file: string) => Promise<Outcome>;
  /** Takes a phrasebook's file. Left out: it is not known what one is. */
  readonly phrases?: Pick<PhrasebookDesk, 'take'>;
  readonly readerFor: (edition: Edition) => Promise<Reader>;
  /** Whether sound is kept beside the words. */
  readonly keepSound?: () => boolean;
  /** What is found becomes squawks, as on any walk. Left out: nothing is written up. */
  readonly desk?: Pick<SquawkDesk, 'steps' | 'atFinish'>;
  /** Hears what a sound file says. */
  readonly hearSound: (
    bytes: Uint8Array,
    name: string,
    edition: Edition,
    progress: (part: number) => void,
  ) => Promise<{ ok: true; heard: readonly Heard[] } | { ok: false; error: string }>;
}

/** What a file had in it. */
type Brought =
  | { ok: true; heard: readonly Heard[]; warnings?: readonly string[] }
  | { ok: false; error: string };

/** The screen is told after this many utterances, and gets its turn to draw. */
const TELL_EVERY = 50;

const CATALOGUE = /\.(ya?ml|json)$/i;
const SOUND = /\.(wav|mp3|m4a|mp4|aac|ogg|oga|opus|flac|webm|aiff?)$/i;

/** A file dropped or chosen: a catalogue, a transcript or a sound file, told by its name. */
export async function bringIn(
  parts: BringInParts,
  file: File,
  into: BroughtWalk | null,
  progress: (p: Progress) => void,
  stop?: AbortSignal,
): Promise<Outcome<{ walk: string | null; text: string; go?: string }>> {
  // By its size, before any of it is read.
  if (SOUND.test(file.name)) {
    const large = soundTooLarge(file.name, file.size);
    if (large !== null) return bad(large);
  } else {
    const small = notTooLarge(file);
    if (!small.ok) return small;
  }
  if (CATALOGUE.test(file.name)) {
    const text = await file.text();
    if (parts.phrases !== undefined && isPhrasebook(text)) {
      const taken = await parts.phrases.take(file);
      if (!taken.ok) return taken;
      const go = `/learned/${encodeURIComponent(taken.value.aircraft)}`;
      return good({ walk: null, text: taken.value.text, go });
    }
    const here = parts.shelf.books().some((b) => b.id === outlineOf(text)?.id);
    if (here || isParcel(text)) {
      const offered = await parts.offer(text, file.name);
      return offered.ok
        ? good({ walk: null, text: `${file.name} waits for your yes.`, go: '/workshop/offer' })
        : offered;
    }
    const taken = await parts.shelf.bringIn(text, file.name);
    return taken.ok
      ? good({ walk: null, text: `${taken.value.catalogue.name} may now be walked.` })
      : bad(taken.error);
  }
  if (into === null) {
    return bad(`${file.name} is a walk; choose first which aircraft and catalogue it belongs to.`);
  }
  const edition = parts.shelf.get(into.catalogue);
  const bytes = new Uint8Array(await file.arrayBuffer());
  const heard: Brought = SOUND.test(file.name)
    ? await parts.hearSound(bytes, file.name, edition, (part) =>
        progress({ text: 'Listening to the file …', part }),
      )
    : transcriptHeard(bytes, file.name);
  if (!heard.ok) return bad(heard.error);
  if (stop?.aborted === true) return bad(`Stopped: ${file.name} was not brought in.`);
  const told = {
    aircraft: into.aircraft,
    catalogue: edition.catalogue,
    reporter: into.pilot ?? null,
    found: 'pre-flight walk, from a file',
    hours: into.hours ?? null,
    carried: [],
  };
  const { desk } = parts;
  let unkept = '';
  await parts.store.keepCatalogue(edition.edition, edition.catalogue);
  const { walk, coverage } = await walkThrough({
    catalogue: edition.catalogue,
    reader: await parts.readerFor(edition),
    log: parts.store,
    world: parts.world,
    heard: heard.heard,
    aircraft: into.aircraft,
    circumstances: [],
    pilot: into.pilot ?? null,
    instructor: into.instructor ?? null,
    hours: into.hours ?? null,
    ...(into.begun === undefined ? {} : { begun: into.begun }),
    ...(desk === undefined
      ? {}
      : {
          also: (statement, of) => desk.steps(statement, of, told),
          atFinish: (at, events) => desk.atFinish(at, events, told),
        }),
    async onBegun(walk) {
      if (!SOUND.test(file.name) || parts.keepSound?.() === false) return heard.heard;
      const kept = await keptSound(parts, {
        bytes,
        mime: mimeOf(file),
        walk,
        into,
        heard: heard.heard,
      });
      unkept = kept.why;
      return kept.heard;
    },
    onProgress(read) {
      if (read % TELL_EVERY === 0) {
        progress({ text: 'Reading …', part: read / heard.heard.length });
      }
    },
  });
  return good({
    walk,
    text: [
      `${counted(heard.heard.length, 'utterance')} read; ${openWords(coverage.open.length)}.`,
      ...(heard.heard.some((h) => h.from !== null) ? [] : ['Its times are unknown.']),
      ...(heard.warnings ?? []),
      ...(unkept === '' ? [] : [`Its sound is not kept: ${unkept}`]),
    ].join(' '),
  });
}

/** Bytes of sound that are written at once: memory holds the file and one slice of it. */
const SLICE = 1024 * 1024;

interface BroughtSound {
  readonly bytes: Uint8Array<ArrayBuffer>;
  readonly mime: string;
  readonly walk: string;
  readonly into: BroughtWalk;
  readonly heard: readonly Heard[];
}

/**
 * Keeps the file as it is, so that every word can be played. Where there is no
 * room for all of it the words point at no sound, and it is said.
 */
async function keptSound(
  { store, world }: Pick<BringInParts, 'store' | 'world'>,
  { bytes, mime, walk, into, heard }: BroughtSound,
): Promise<{ heard: readonly Heard[]; why: string }> {
  const recording = world.id();
  const seconds = Math.max(0, ...heard.map((h) => h.to ?? h.from ?? 0));
  const slices = Math.ceil(bytes.length / SLICE);
  for (let chunk = 0; chunk < slices; chunk += 1) {
    const kept = await store.keepSound({
      walk,
      aircraft: into.aircraft,
      t: 0,
      recording,
      chunk,
      place: {
        recording,
        from: (seconds * chunk) / slices,
        to: (seconds * (chunk + 1)) / slices,
      },
      mime,
      data: bytes.slice(chunk * SLICE, (chunk + 1) * SLICE).buffer,
    });
    if (!kept.kept) return { heard, why: kept.why };
  }
  const placed = heard.map((h) =>
    h.from === null ? h : { ...h, sound: { recording, from: h.from, to: h.to ?? h.from } },
  );
  return { heard: placed, why: '' };
}

const MIMES: Readonly<Record<string, string>> = {
  wav: 'audio/wav',
  mp3: 'audio/mpeg',
  m4a: 'audio/mp4',
  mp4: 'audio/mp4',
  aac: 'audio/aac',
  ogg: 'audio/ogg',
  oga: 'audio/ogg',
  opus: 'audio/ogg',
  flac: 'audio/flac',
  webm: 'audio/webm',
};

/** As the platform says, else by the name: a player asks for one. */
function mimeOf(file: File): string {
  return file.type || (MIMES[file.name.split('.').at(-1)?.toLowerCase() ?? ''] ?? 'audio/mpeg');
}

function counted(n: number, one: string): string {
  return n === 1 ? `One ${one}` : `${String(n)} ${one}s`;
}

function openWords(open: number): string {
  if (open === 0) return 'nothing is open';
  return open === 1 ? 'one thing is open' : `${String(open)} things are open`;
}
