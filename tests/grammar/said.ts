import { FIRST_SCENE } from '#shared/scene';
import type { Statement } from '#shared/statement';
import { heardOf, ourReader } from '../bench/grammar/ours.ts';
import { readCatalogue } from '../corpus/load.ts';

/** Reads utterances one after the other over a catalogue, and gives what the last one says. */
export function readIn(file: string): (...says: readonly string[]) => readonly Statement[] {
  const reader = ourReader(readCatalogue(file));
  return (...says) => {
    let scene = FIRST_SCENE;
    let last: readonly Statement[] = [];
    says.forEach((say, i) => {
      const reading = reader.read(heardOf(say, `h${String(i)}`), scene);
      scene = reading.scene;
      last = reading.statements;
    });
    return last;
  };
}
