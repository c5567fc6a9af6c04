import { z } from 'zod';
import type { Event } from './event.ts';
import { readAs, type Format, type Read } from './format.ts';
import { goneIn, keyOf, Learned, toldIn, type Line } from './phrasebook.ts';
import { SEVERITIES } from './severity.ts';

/** The name of the format inside the file: what tells it from a catalogue written as JSON. */
export const PHRASEBOOK = 'talkround-phrasebook';
/** At most so many tellings: some hundred are a season of one aircraft. */
const MOST = 20_000;

/** What was learned on one aircraft, by everybody who walked it: beside its catalogue's file. */
export const PhrasebookFile = z.strictObject({
  format: z.literal(PHRASEBOOK),
  v: z.literal(1),
  /** Milliseconds since 1970. */
  made: z.number(),
  aircraft: z.string().trim().min(1).max(80),
  /** Every telling that counts, also the same one twice; `at` is when it was told. */
  learned: z.array(Learned.extend({ at: z.number() })).max(MOST),
  /** Ids of what was told and is forgotten, and when. */
  forgotten: z.array(z.object({ learned: z.string(), at: z.number() })).max(MOST),
});
export type PhrasebookFile = z.infer<typeof PhrasebookFile>;

const PhrasebookFormat: Format<typeof PhrasebookFile> = {
  name: 'phrasebook file',
  version: 1,
  schema: PhrasebookFile,
  upcasters: {},
};

/** Everything of one aircraft, for another device. */
export function phrasebookFile(
  events: readonly Event[],
  aircraft: string,
  made: number,
): PhrasebookFile {
  const own = events.filter((e) => e.aircraft === aircraft);
  const gone = goneIn(own);
  return {
    format: PHRASEBOOK,
    v: 1,
    made,
    aircraft,
    learned: toldIn(own)
      .filter((line) => !gone.has(line.id))
      .map(({ id, phrase, means, speaker, from, told, asked, at }) => ({
        id,
        phrase,
        means,
        speaker,
        from,
        at,
        ...(told === undefined ? {} : { told }),
        ...(asked === undefined ? {} : { asked }),
      })),
    forgotten: [...gone].map(([learned, at]) => ({ learned, at })),
  };
}

/** Whether some JSON says first of all that it is a phrasebook, of whatever version: a catalogue's file may have some in it. */
export function isPhrasebook(text: string): boolean {
  return /"format"\s*:\s*"([^"]*)"/.exec(text.slice(0, 2000))?.[1] === PHRASEBOOK;
}

/** Reads a phrasebook's file. Never throws; what is wrong is one sentence. */
export function readPhrasebook(text: string): Read<PhrasebookFile> {
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch {
    return {
      ok: false,
      error:
        'This phrasebook file is not whole: it may have been cut off on the way. Ask for it again.',
    };
  }
  return readAs(PhrasebookFormat, value);
}

/** What a file adds to what is known here. */
export interface Merged {
  /** Tellings that are new and make nothing milder. */
  readonly learned: readonly Learned[];
  /** Tellings that make words good, harmless or a fault milder: only with a yes. */
  readonly asks: readonly Learned[];
  /** Ids of what the other device forgot after it was told, and that still counts here. */
  readonly forgotten: readonly string[];
  /** Tellings that were known, or were forgotten here: these stay as they are. */
  readonly known: number;
}

/** The union of two phrasebooks. Of two that contradict each other the later one counts, by `phrasebooksOf`. */
export function mergedWith(events: readonly Event[], file: PhrasebookFile): Merged {
  const own = events.filter((e) => e.aircraft === file.aircraft);
  const here = toldIn(own);
  const ids = new Set(here.map((line) => line.id));
  const gone = goneIn(own);
  const undone = new Map(
    own.flatMap(({ what, at }) =>
      what.kind === 'unlearned' && what.undone === true ? [[what.learned, at] as const] : [],
    ),
  );
  const fresh = file.learned.filter((l) => !ids.has(l.id));
  const live = here.filter((line) => !gone.has(line.id));
  return {
    learned: fresh.filter((l) => !makesMilder(l, live)),
    asks: fresh.filter((l) => makesMilder(l, live)),
    forgotten: file.forgotten.flatMap(({ learned, at }) =>
      ids.has(learned) && !gone.has(learned) && (undone.get(learned) ?? -Infinity) < at
        ? [learned]
        : [],
    ),
    known: file.learned.length - fresh.length,
  };
}

/** Nothing is learned to be good, harmless or milder than it was without a yes. */
function makesMilder({ means, ...l }: Learned, here: readonly Line[]): boolean {
  if (means.is === 'good' || means.is === 'nothing') return true;
  if (means.is === 'meant') return means.good;
  if (means.is !== 'severity') return false;
  const key = keyOf({ means, ...l });
  return here.some(
    (line) =>
      line.means.is === 'severity' &&
      keyOf(line) === key &&
      SEVERITIES.indexOf(line.means.severity) < SEVERITIES.indexOf(means.severity),
  );
}
