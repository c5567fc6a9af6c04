import type { Catalogue } from '#shared/catalogue';
import { SEVERITY_WORDS } from '#shared/severity';
import type { Fault, Squawk } from '#shared/squawk';
import { limitWritten } from '#shared/figures';
import { capital, conditionWords, faultValue, partWords } from './squawk-title.ts';

/** Longest problem description, characters: FAA Form 8070-1 asks for 1,500 or less. */
export const LONGEST_NARRATIVE = 1500;

/**
 * A draft for the mechanic in clear trade English. Everything in it comes from
 * the squawk; nothing is inferred or added (a test holds each fact against it).
 */
export function narrativeOf(squawk: Squawk, catalogue: Catalogue | null): string {
  const { fault } = squawk;
  const part = partWords(fault);
  const found = fault.conditions.map((c) => conditionWords(c, catalogue)).join(', ');
  const sentences = [
    subject(part, found),
    fault.position === null ? null : `Position: ${fault.position}.`,
    value(squawk),
    severitySentence(fault),
    squawk.found === null ? null : `Found: ${squawk.found}.`,
    `Reported ${new Date(squawk.opened).toISOString().slice(0, 10)}${squawk.reporter === null ? '' : ` by ${squawk.reporter}`}.`,
    squawk.hours === null ? null : `Aircraft time in service: ${squawk.hours} h.`,
  ].filter((s) => s !== null);
  return withWords(sentences.join(' '), fault.words);
}

function subject(part: string | null, found: string): string | null {
  if (part === null) return found === '' ? null : `${capital(found)}.`;
  return found === '' ? `${capital(part)}.` : `${capital(part)}: ${found}.`;
}

/** The reporter's only where the reporter said it. */
function severitySentence({ severity, severityBy }: Fault): string | null {
  if (severity === null) return null;
  const words = SEVERITY_WORDS[severity];
  if (severityBy === 'said') return `Reporter's severity: ${words}.`;
  if (severityBy === 'before') return `Severity as the reporter rated it before: ${words}.`;
  return severityBy === 'catalogue'
    ? `Severity proposed by the catalogue: ${words}.`
    : `Severity: ${words}.`;
}

function value(squawk: Squawk): string | null {
  const { value: said } = squawk.fault;
  if (said === null) return null;
  const name = said.measure === null ? 'Measured' : capital(said.measure);
  const limit = said.limit === null ? '' : `, ${limitWritten(said.limit)}`;
  return `${name}: ${faultValue(said)}${limit}.`;
}

/** The words as said, at the end, cut where the whole would be too long. */
function withWords(text: string, words: string): string {
  const open = ' As said: “';
  const room = LONGEST_NARRATIVE - text.length - open.length - 2;
  if (room <= 0) return text.slice(0, LONGEST_NARRATIVE);
  const kept = words.length <= room ? words : `${words.slice(0, room - 1)}…`;
  return `${text}${open}${kept}”.`.trimStart();
}
