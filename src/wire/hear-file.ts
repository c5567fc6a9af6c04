import { browserDecode, hearInBrowser, soundFile } from '#capture';
import type { Pronunciations } from '#grammar';
import type { Catalogue } from '#shared/catalogue';
import type { Heard } from '#shared/heard';
import { listeningParts } from './listening-parts.ts';

export interface HearFileParts {
  readonly bytes: Uint8Array;
  readonly name: string;
  readonly catalogue: Catalogue;
  readonly modelBase: string;
  readonly pronunciations: Pronunciations;
  id(): string;
  /** Part that is done, 0 to 1. */
  progress(part: number): void;
}

/** What a sound file says, heard in a worker so that the page stays alive. */
export async function hearFile(
  parts: HearFileParts,
): Promise<
  { ok: true; heard: readonly Heard[]; warnings: readonly string[] } | { ok: false; error: string }
> {
  const sound = await soundFile(parts.bytes, parts.name, browserDecode);
  if (!sound.ok) return sound;
  const heard = await hearInBrowser(sound.samples, sound.rate, {
    modelBase: parts.modelBase,
    grammar: listeningParts(parts.catalogue, parts.pronunciations),
    id: parts.id,
    progress: parts.progress,
  });
  if (heard.length === 0) {
    return {
      ok: false,
      error: `${parts.name} has sound, but nothing in it could be heard as a walk on this aircraft.`,
    };
  }
  return { ok: true, heard, warnings: sound.warning === null ? [] : [sound.warning] };
}
