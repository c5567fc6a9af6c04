import { loadDecoder } from './decoder.ts';
import { createEngine } from './engine.ts';
import type { FromWorker, ToWorker } from './messages.ts';
import { baseOf, checkModel } from './model.ts';

/*
 * The worker around the recogniser. Messages are taken one after the other, so
 * that sound that comes while the model is loading waits for it.
 */
const post = (message: FromWorker) => {
  self.postMessage(message);
};

const take = createEngine(async (modelBase) => {
  const whole = await checkModel(modelBase, async (address) => {
    const answer = await fetch(address);
    return {
      ok: answer.ok,
      length: async () => (await answer.arrayBuffer()).byteLength,
    };
  });
  if (!whole.able) throw new Error(whole.why);
  return loadDecoder(baseOf(modelBase));
}, post);

let turn: Promise<void> = Promise.resolve();
self.addEventListener('message', (event: MessageEvent<ToWorker>) => {
  const message = event.data;
  // `open` must not hold up the sound behind it: the engine keeps that itself.
  if (message.kind === 'open') void take(message);
  else turn = turn.then(() => take(message));
});
