import type { Heard } from '#shared/heard';
import type { Edition } from './shelf.ts';

export function hearFile(
  _bytes: Uint8Array,
  _name: string,
  _edition: Edition,
  _modelBase: string,
  _progress: (part: number) => void,
): Promise<{ ok: true; heard: readonly Heard[] } | { ok: false; error: string }> {
  return Promise.resolve({ ok: false, error: 'not yet' });
}
