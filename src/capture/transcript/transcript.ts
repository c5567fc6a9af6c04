import type { Heard } from '#shared/heard';
import { heardOf } from '../ear.ts';
import { hasCues, readCues } from './cues.ts';
import { decodeText } from './decode.ts';
import { joined } from './joined.ts';
import { readLines } from './lines.ts';
import { oddities } from './piece.ts';

export type Transcript =
  { ok: true; heard: Heard[]; warnings: string[] } | { ok: false; error: string };

/**
 * Reads a transcript: WebVTT, SubRip, or plain text with or without stamps.
 * Which one it is, is told by what is in it and not by the file's name.
 *
 * Times are seconds from the transcript's own zero. Never throws; what is odd
 * but readable is a warning, one sentence for each kind of oddity.
 *
 * @param id makes the id of each utterance; left out, ids follow from the
 *   file's name and the position, so that the same file reads the same.
 */
export function transcriptHeard(
  input: string | Uint8Array,
  file: string,
  id: (n: number) => string = (n) => `${file}#${n}`,
): Transcript {
  const decoded = decodeText(input, file);
  if (!decoded.ok) return decoded;
  const other = otherText(decoded.text);
  if (other !== null) return { ok: false, error: `${file} ${other}.` };
  const lines = decoded.text.split(/\r\n|\n|\r|\f/);
  const odd = oddities();
  const pieces = joined(hasCues(lines) ? readCues(lines, odd) : readLines(lines, odd));
  const spoken = pieces.filter((piece) => {
    // "[wind]" stays: the grammar makes nothing of it, and a bracketed finding is still a finding.
    if (/[\p{L}\p{N}]/u.test(piece.text)) return true;
    odd.note(
      'line has no letter or figure in it; it is left out | lines have no letter or figure in them; they are left out',
      piece.line,
    );
    return false;
  });
  if (spoken.length === 0) {
    return { ok: false, error: `${file} has no speech in it: no line of it holds a spoken word.` };
  }
  const warnings = odd.sentences(file);
  if (decoded.note !== null) warnings.unshift(`${file} ${decoded.note}.`);
  return {
    ok: true,
    warnings,
    heard: spoken.map((piece, i) =>
      heardOf({
        id: id(i + 1),
        by: 'transcript',
        text: piece.text,
        from: piece.from,
        to: piece.to,
        speaker: piece.speaker,
      }),
    ),
  };
}

/** Text of another kind, which would otherwise be read out line by line. */
function otherText(text: string): string | null {
  const start = text.slice(0, 300).trimStart();
  if (/^<(?:!doctype|html|\?xml|tt[\s>])/i.test(start)) {
    return 'is a web page or XML and no transcript; save it as plain text, WebVTT or SubRip';
  }
  if (/^[{[]\s*["{[\]}]/.test(start)) {
    return 'looks like JSON and no transcript; save it as plain text, WebVTT or SubRip';
  }
  return null;
}
