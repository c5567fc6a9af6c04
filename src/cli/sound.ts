import type { Pronunciations } from '#grammar';
import type { Catalogue } from '#shared/catalogue';
import type { Heard } from '#shared/heard';
import { Refusal } from './command.ts';
export function isSound(_b: Uint8Array, file: string): boolean {
  return /\.wav$/i.test(file);
}
export async function heardInSound(
  _b: Uint8Array,
  _f: string,
  _c: Catalogue,
  _p: Pronunciations,
): Promise<Heard[]> {
  throw new Refusal('not yet');
}
