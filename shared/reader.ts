import type { Heard } from './heard.ts';
import type { ReadBy } from './event.ts';
import type { Scene } from './scene.ts';
import type { Statement } from './statement.ts';

/** What the phrase grammar makes of one utterance, and the scene for the next. */
export interface Reading {
  readonly statements: readonly Statement[];
  readonly scene: Scene;
}

/** The phrase grammar as the other stages see it. Pure: the same words in the same scene read the same. */
export interface Reader {
  /** Which reader this is, for the record of the walk. Left out: a double, or one that reads no words. */
  readonly by?: ReadBy;
  read(heard: Heard, scene: Scene): Reading;
  /** The scene once an utterance is in the log, read or not; left out where the reader keeps no conversation. */
  hear?(scene: Scene, heard: Heard): Scene;
  /** The scene after a statement that was read earlier, for a walk that is opened again. */
  follow(scene: Scene, statement: Statement): Scene;
}
