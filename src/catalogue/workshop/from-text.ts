import { assembled } from './assemble.ts';
import type { Drafted } from './draft.ts';
import { partsOfText } from './read-text.ts';
import { isTable, partsOfTable } from './table.ts';

/**
 * Characters of a text that is read as a checklist. A printed one has some
 * thousands, a whole manual a million. Too low refuses an honest text, in words;
 * too high holds up the screen of a phone for seconds.
 */
export const LONGEST_TEXT = 1_000_000;

/** Whether a text is an author's own file, of whatever version: it is no checklist to be read. */
export function isAuthored(text: string): boolean {
  return /^\uFEFF?\s*(#.*\n\s*)*v:\s*\d/.test(text);
}

/** A draft out of the text of a printed checklist or of a table. Never throws. */
export function draftFrom(text: string): Drafted {
  if (text.length > LONGEST_TEXT)
    return {
      ok: false,
      error: `The text has ${text.length} characters; a checklist of at most ${LONGEST_TEXT} is read. Leave the rest of the manual out: your text is still here.`,
    };
  if (text.trim() === '')
    return { ok: false, error: 'There is no text yet; paste the checklist, or drop its file.' };
  const parts = isTable(text) ? partsOfTable(text) : partsOfText(text);
  const draft = assembled(parts, text);
  if (draft.stations.length === 0)
    return {
      ok: false,
      error:
        'No line of this text reads as a check. A check is a thing and what is done with it on one line, such as "Oil - check 6 qt min"; your text is still here.',
    };
  return { ok: true, draft };
}
