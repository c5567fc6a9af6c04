import { loadDecoder, type Decoder } from './decoder.ts';

/**
 * The recogniser in Node. @param folder folder of the model, with or without `en-us/`.
 * Its module reports every error of the process by printing its own source; the
 * listeners that do so are taken off again.
 */
export async function nodeDecoder(folder: string): Promise<Decoder> {
  const before = {
    exception: process.listeners('uncaughtException'),
    rejection: process.listeners('unhandledRejection'),
  };
  const decoder = await loadDecoder(folder.replace(/en-us\/?$/, ''));
  for (const listener of process.listeners('uncaughtException'))
    if (!before.exception.includes(listener)) process.off('uncaughtException', listener);
  for (const listener of process.listeners('unhandledRejection'))
    if (!before.rejection.includes(listener)) process.off('unhandledRejection', listener);
  return decoder;
}
