import { loadDecoder } from '../embedded/decoder.ts';
import { baseOf, checkModel, lengthOf, sharesOf } from '../embedded/model.ts';
import { createEngine } from './engine.ts';
import type { ToWorker } from './protocol.ts';

/* The recogniser off the page's own thread, so that nothing on the screen ever waits for it. */

const take = createEngine(
  async (modelBase, loading) => {
    const came = sharesOf(loading);
    // The recogniser takes a cut file without a word and then hears nothing.
    const whole = await checkModel(modelBase, async (address) => {
      const answer = await fetch(address);
      return { ok: answer.ok, length: () => lengthOf(answer.body, came) };
    });
    if (!whole.able) throw new Error(whole.why);
    return loadDecoder(baseOf(modelBase));
  },
  (message) => postMessage(message),
);

addEventListener('message', ({ data }: MessageEvent<ToWorker>) => void take(data));
