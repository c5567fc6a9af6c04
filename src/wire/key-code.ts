import type { KeyView } from '#screens';

/**
 * What the code of a key says to any camera: its words first, for people, then
 * what a device needs to be let in by it.
 */
export function codeText({ name, words, device, publicKey }: Omit<KeyView, 'since'>): string {
  return `Talkround key of ${name ?? 'a device'}: ${words}. Device ${device}, key ${publicKey}.`;
}

/** Loaded when somebody looks at a key. */
export async function codeOf(key: KeyView): Promise<{ size: number; path: string }> {
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
