import { z } from 'zod';
import type { Shelf } from '../shelf.ts';
import { sealFields, type Held } from './held.ts';
import { heldRow } from '../reading.ts';
import { comparedAs, type Known } from './keys.ts';
import { sealTrouble } from './seal-form.ts';

/** Under which note it is kept which device was met under which key. */
const NOTE = 'setting:devices';

const Met = z.object({
  device: z.string(),
  publicKey: z.string(),
  /** What the device calls itself, as its latest seal says. */
  name: z.string().nullable(),
  /** When it was first met here, milliseconds since 1970. */
  since: z.number(),
  /** Two people have compared the fingerprint. */
  compared: z.boolean(),
});
/** A device and a key under which it was met, the first one met in front. */
export type Met = z.infer<typeof Met>;
const Note = z.array(Met);

/** Every device that was met; made from the log where nothing was kept yet. */
export async function metDevices(shelf: Shelf, own: string): Promise<readonly Met[]> {
  const kept = Note.safeParse(await shelf.note(NOTE));
  if (kept.success) return kept.data;
  const seals = await shelf.rows({ index: 'kind', value: 'sealed' });
  const met = withSeals([], seals.map(heldRow), 0, own);
  await keepMet(shelf, met);
  return met;
}

export async function keepMet(shelf: Shelf, met: readonly Met[]): Promise<void> {
  await shelf.setNote(NOTE, met);
}

/** With every device whose seal holds. */
export function withSeals(
  met: readonly Met[],
  seals: readonly Held[],
  now: number,
  own: string,
): readonly Met[] {
  const all = [...met];
  for (const event of seals) {
    const fields = sealFields(event);
    const name = fields.covers !== null && fields.covers !== 'bad' ? fields.covers.name : null;
    const at = all.findIndex((m) => m.device === event.device && m.publicKey === fields.publicKey);
    const there = all[at];
    if (there !== undefined && (name === null || name === there.name)) continue;
    if (sealTrouble(fields, event.prev) !== null) continue;
    // Nobody becomes this device by saying so.
    if (event.device === own && event.place !== 'here') continue;
    if (there !== undefined) all[at] = { ...there, name };
    else
      all.push({
        device: event.device,
        publicKey: fields.publicKey,
        name,
        since: now,
        compared: false,
      });
  }
  return all;
}

/** What the judge is told. */
export function knownFrom(own: string, current: string | null, met: readonly Met[]): Known {
  const keys = new Map<string, string[]>();
  const mine = new Set(current === null ? [] : [current]);
  for (const m of met) {
    if (m.device === own) mine.add(m.publicKey);
    keys.set(m.device, [...(keys.get(m.device) ?? []), m.publicKey]);
  }
  return {
    own: { device: own, keys: mine },
    keys,
    compared: new Set(met.filter((m) => m.compared).map((m) => comparedAs(m.device, m.publicKey))),
  };
}
