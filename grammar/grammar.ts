import type { Catalogue } from '#shared/catalogue';
import type { Heard } from '#shared/heard';
import type { Reader } from '#shared/reader';
import type { Scene } from '#shared/scene';
import { byEarOf, ownPronunciations } from './byear.ts';
import { namesOf } from './names.ts';
import { senseTrie } from './pieces.ts';
import { readHeard, type Compiled } from './read.ts';
import { followScene, placesOf } from './scene.ts';
import type { Pronunciations } from './sound/dictionary.ts';
import { earOf } from './sound/ear.ts';

export interface Grammar extends Reader {
  /** Why an utterance was read as it was, for a person. */
  explain(heard: Heard, scene: Scene): string;
}

/** The phrase grammar of one catalogue. Compiles once; `read` is pure and synchronous. */
export function createGrammar(
  catalogue: Catalogue,
  options: { pronunciations: Pronunciations },
): Grammar {
  const names = namesOf(catalogue);
  const ear = earOf(options.pronunciations, ownPronunciations(catalogue));
  const compiled: Compiled = {
    catalogue,
    names,
    senses: senseTrie(catalogue),
    places: placesOf(catalogue),
    byEar: byEarOf(names, ear),
  };
  return {
    read: (heard, scene) => readHeard(heard, scene, compiled),
    follow: (scene, statement) => followScene(scene, statement, compiled.places),
    explain: (heard, scene) =>
      readHeard(heard, scene, compiled)
        .statements.map((s) => [s.span.words, ...s.why].join('\n  '))
        .join('\n'),
  };
}
