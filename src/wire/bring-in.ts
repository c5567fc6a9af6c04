import { soundTooLarge, transcriptHeard } from '#capture';
import { isParcel, outlineOf } from '#catalogue';
import type { Outcome, Progress } from '#screens';
import type { Store } from '#store';
import type { Heard } from '#shared/heard';
import type { World } from '#shared/log';
import type { Reader } from '#shared/reader';
import type { CatalogueShelf, Edition } from './shelf.ts';
import { bad, good } from './outcome.ts';
import { notTooLarge } from './text-file.ts';
import { walkThrough } from './whole-walk.ts';

export interface BringInParts {
  readonly store: Store;
  readonly world: World;
  readonly shelf: CatalogueShelf;
  /** Lets a catalogue wait for a yes: one that was given away, or that would take the place of another. */
  readonly offer: (text: string, file: string) => Promise<Outcome>;
  readonly readerFor: (edition: Edition) => Promise<Reader>;
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

export interface Into {
  readonly aircraft: string;
  readonly catalogue: string;
}

/** The screen is told after this many utterances, and gets its turn to draw. */
const TELL_EVERY = 50;

const CATALOGUE = /\.(ya?ml|json)$/i;
const SOUND = /\.(wav|mp3|m4a|mp4|aac|ogg|oga|opus|flac|webm|aiff?)$/i;

/** A file dropped or chosen: a catalogue, a transcript or a sound file, told by its name. */
export async function bringIn(
  parts: BringInParts,
  file: File,
  into: Into | null,
  progress: (p: Progress) => void,
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
  await parts.store.keepCatalogue(edition.edition, edition.catalogue);
  const { walk, coverage } = await walkThrough({
    catalogue: edition.catalogue,
    reader: await parts.readerFor(edition),
    log: parts.store,
    world: parts.world,
    heard: heard.heard,
    aircraft: into.aircraft,
    circumstances: [],
    onProgress(read) {
      if (read % TELL_EVERY === 0) {
        progress({ text: 'Reading …', part: read / heard.heard.length });
      }
    },
  });
  return good({
    walk,
    text: [
      `${heard.heard.length} utterances read; ${coverage.open.length} things are open.`,
      ...(heard.warnings ?? []),
    ].join(' '),
  });
}
