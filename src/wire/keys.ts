import type { KeyView, Services } from '#screens';
import type { Store } from '#store';
import { codeText } from './let-in.ts';
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
    compareKey: (publicKey, compared) =>
      attempt(async () => {
        await store.compareKey(publicKey, compared);
        return good(null);
      }),
    keyCode: (key) => attempt(async () => good(await codeOf(key))),
  };
}

/** Loaded when somebody looks at a key. */
async function codeOf(key: KeyView): Promise<{ size: number; path: string }> {
  const { default: qr } = await import('qrcode');
  const { modules } = qr.create(codeText(key), {
    errorCorrectionLevel: 'M',
  });
  const { size } = modules;
  const dark = Array.from({ length: size * size }, (_, i) => i).filter(
    (i) => modules.get(Math.floor(i / size), i % size) !== 0,
  );
  return { size, path: dark.map((i) => `M${i % size} ${Math.floor(i / size)}h1v1h-1z`).join('') };
}
