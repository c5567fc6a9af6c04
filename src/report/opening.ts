import type { Line } from './pdf-flow.ts';
import type { SheetParts } from './sheet-pdf.ts';
import { summaryOf, summarySentence } from './summary.ts';
import { toldSentence } from '#shared/told';

/* How every document of a walk begins, whatever draws it. */

export const DEBRIEF_TITLE = 'For the talk afterwards';

/** What a document is of, in one line: at the head of every page. */
export function headText({ catalogue, head }: SheetParts, what: string): string {
  const pilot = head.pilot === null ? '' : `, pilot ${head.pilot}`;
  const taught = head.instructor === null ? '' : `, instructor ${head.instructor}`;
  const hours = head.hours === null ? '' : `, ${head.hours} h`;
  return `Talkround ${what}: ${head.aircraft}${pilot}${taught}, ${day(head.begun)}${hours}, ${catalogue.name}`;
}

export function day(at: number): string {
  return new Date(at).toISOString().slice(0, 16).replace('T', ' ') + ' UTC';
}

export function opening(parts: SheetParts, title: string): Line[] {
  const { head, catalogue } = parts;
  const who = whoWords(head);
  return [
    { text: title, size: 18, bold: true, level: 1 },
    { text: `${head.aircraft}, ${catalogue.name}, ${day(head.begun)}`, above: 4 },
    ...(who.length === 0 ? [] : [{ text: who.join('; ') }]),
    ...(catalogue.notice === undefined ? [] : [{ text: catalogue.notice, pale: true, size: 9 }]),
    ...inShort(parts),
  ];
}

/** The numbers of the walk, and what has to be read before they are believed. */
export function inShort(parts: Pick<SheetParts, 'seal' | 'coverage'>): Line[] {
  const { coverage } = parts;
  return [
    { text: summarySentence(summaryOf(coverage)), bold: true, above: 8 },
    ...boldLine(toldSentence(coverage)),
    ...doubts(parts).map((text) => ({ text, bold: true })),
  ];
}

/** Who flew and who taught, and the aircraft's hours, as far as they are known. */
export function whoWords({ pilot, instructor, hours }: SheetParts['head']): string[] {
  return [
    pilot === null ? null : `Pilot: ${pilot}`,
    instructor === null ? null : `Instructor: ${instructor}`,
    hours === null ? null : `Aircraft time in service: ${hours} h`,
  ].filter((w) => w !== null);
}

/** What has to be read before the rest is believed. */
export function doubts({ seal, coverage }: Pick<SheetParts, 'seal' | 'coverage'>): string[] {
  if (seal === undefined) return [];
  return [...(!seal.whole && coverage.signed !== null ? [seal.text] : []), ...seal.remarks];
}

function boldLine(text: string | null): Line[] {
  return text === null ? [] : [{ text, bold: true }];
}
