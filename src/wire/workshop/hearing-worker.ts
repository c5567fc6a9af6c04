import { readersFrom } from '../readers.ts';
import { workshopHearing } from './hearing.ts';
import type { Asked, Begin, Told } from './protocol.ts';

/*
 * The linter reads every name of a catalogue against every other: seconds for a
 * large one, in which nobody could type. So it has a thread of its own.
 */
let hearing: ReturnType<typeof workshopHearing> | null = null;

async function answer(asked: Asked): Promise<unknown> {
  if (hearing === null) throw new Error('It was asked before it began.');
  switch (asked.what) {
    case 'heed':
      return hearing.heed(...asked.with);
    case 'tryOut':
      return hearing.tryOut(...asked.with);
    case 'proof':
      return hearing.proof(...asked.with);
    case 'sounds':
      return hearing.sounds(...asked.with);
  }
}

addEventListener('message', (event: MessageEvent<Asked | Begin>) => {
  const { data } = event;
  if ('modelBase' in data) {
    const readers = readersFrom(data.modelBase, data.scoresAt, () => undefined);
    hearing = workshopHearing({
      pronunciations: () => readers.pronunciations(),
      weights: () => readers.weights(),
      say: () => Promise.resolve(false),
    });
    return;
  }
  void answer(data).then(
    (value) => postMessage({ id: data.id, ok: true, value } satisfies Told),
    (error: unknown) =>
      postMessage({
        id: data.id,
        ok: false,
        error: error instanceof Error ? error.message : String(error),
      } satisfies Told),
  );
});
