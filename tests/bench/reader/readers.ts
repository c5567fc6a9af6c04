import type { Catalogue } from '#shared/catalogue';
import type { Reader } from '#shared/reader';
import { FIRST_SCENE, type Scene } from '#shared/scene';
import type { Statement } from '#shared/statement';
import { unreadable } from '../../../src/record/unreadable.ts';
import type { Utterance } from '../../corpus/format.ts';
import { labelsOf } from '../grammar/claims.ts';
import { heardOf, ourReader, sceneOf, WEIGHTS_FILE } from '../grammar/ours.ts';
import type { Conversation, Line } from './conversation.ts';
import type { Said } from './tally.ts';

export type ReaderName = 'ours' | 'rules';

/** One reader of the bench, and how it is made for a catalogue. */
export interface NamedReader {
  readonly name: ReaderName;
  /** null: it is no longer in the project, and its row shows the figures kept in `kept`. */
  readonly build: ((catalogue: Catalogue) => Reader) | null;
  /** File of figures that `--keep-rules` wrote, from the project's root; null while it can be built. */
  readonly kept: string | null;
}

/** The readers that are judged in one run. What each of them is, is changed here alone. */
export const READERS: readonly NamedReader[] = [
  { name: 'ours', build: ourReader, kept: null },
  { name: 'rules', build: null, kept: 'tests/bench/reader/rules.json' },
];

/** The learned weights of `ours`, from the project's root; null while it has none. */
export const WEIGHTS: string | null = WEIGHTS_FILE;

/** How a conversation is read. */
export interface How {
  /** Whether the reader is told the station of the label, as a screen would tell it. */
  readonly here: boolean;
  /** Told of an utterance that made the reader throw; it then stands as not understood, as in a session. */
  readonly crashed: (line: number) => void;
}

/** Reads a conversation from its beginning, each utterance in the scene that the one before left. */
export function readBy(
  reader: Reader,
  conversation: Conversation,
  texts: readonly string[],
  how: How,
): Said[] {
  const { id, catalogue, running, lines } = conversation;
  let scene: Scene = FIRST_SCENE;
  let last = 'before-0';
  return lines.map((line, i) => {
    const text = texts[i] ?? line.say;
    // Other readings of the sound are given only where the words are as written.
    const heard = heardOf(text, `${id}/${i}`, text === line.say ? line.heard : []);
    let statements: readonly Statement[];
    try {
      if (running) scene = sceneAt(scene, line, last, reader, catalogue, how.here);
      else scene = sceneOf(reader, utteranceOf(line, true), catalogue);
      const reading = reader.read(heard, scene);
      scene = reading.scene;
      statements = reading.statements;
    } catch (error) {
      how.crashed(i);
      statements = [unreadable(heard, error)];
    }
    last = statements.at(-1)?.id ?? last;
    return { statements, labels: labelsOf(statements, catalogue) };
  });
}

/** The scene of an utterance of a walk: an open question only where the label says that it answers one. */
function sceneAt(
  scene: Scene,
  line: Line,
  last: string,
  reader: Reader,
  catalogue: Catalogue,
  here: boolean,
): Scene {
  const asked =
    line.asked === null ? null : sceneOf(reader, utteranceOf(line, false), catalogue).question;
  return {
    ...scene,
    station: here && line.at !== null ? line.at : scene.station,
    question: asked === null ? null : { ...asked, about: last },
  };
}

/** A line in the form that bench:grammar reads. */
export function utteranceOf(line: Line, here: boolean): Utterance {
  return {
    id: '',
    is: '',
    say: line.say,
    after: [...line.after],
    heard: [...line.heard],
    labels: line.labels,
    voice: '',
    part: 'report',
    catalogue: '',
    ...(here && line.at !== null ? { at: line.at } : {}),
    ...(line.asked === null ? {} : { asked: line.asked }),
  };
}
