import type { Services } from '#screens';
import type { Store } from '#store';
import { codeOf } from './key-code.ts';
import { attempt, good } from './outcome.ts';

/** Devices and their keys, for two people to compare. */
export function keysOf(
  store: Store,
): Pick<Services, 'keys' | 'nameDevice' | 'compareKey' | 'keyCode'> {
  return {
    keys: () => attempt(async () => good(await store.devices())),
    nameDevice: (name) =>
      attempt(async () => {
        await store.nameDevice(name);
        return good(null);
      }),
    compareKey: (publicKey, compared, device) =>
      attempt(async () => {
        await store.compareKey(publicKey, compared, device);
        return good(null);
      }),
    keyCode: (key) => attempt(async () => good(await codeOf(key))),
  };
}
