import {
  debriefHtml,
  pdfOf,
  sealLines,
  sheetCsv,
  sheetHtml,
  sheetText,
  type Letters,
  type PaperSize,
  type PicturesHere,
  type SheetParts,
} from '#report';
import type { Outcome, Paper, WalkRecord } from '#screens';
import { good } from './outcome.ts';
import { begunIn } from './records.ts';

/** The documents of a walk. */
export async function paperOf(
  record: WalkRecord,
  kind: Paper,
  size: PaperSize,
  pictures: PicturesHere,
  letters: () => Promise<Letters>,
): Promise<Outcome<{ name: string; blob: Blob }>> {
  const begun = begunIn(record.events);
  const parts: SheetParts = {
    // The reviewer's words stand beside what was recorded, which they never change.
    coverage: record.reviewed,
    ...(record.seal === null ? {} : { seal: record.seal }),
    catalogue: record.catalogue,
    size,
    pictures,
    events: record.events,
    head: {
      aircraft: record.aircraft,
      pilot: begun?.pilot ?? null,
      instructor: begun?.instructor ?? null,
      begun: record.events[0]?.at ?? 0,
      hours: begun?.hours ?? null,
    },
  };
  // Two walks of a day are told apart by the minute, and of a minute by the pilot.
  const at = new Date(parts.head.begun).toISOString().slice(0, 16).replace(':', '');
  const stem = [record.aircraft, at, parts.head.pilot ?? '']
    .filter((part) => part !== '')
    .map((part) => part.replace(/[^\w-]+/g, '-'))
    .join('-');
  const made = (name: string, content: BlobPart, type: string) =>
    good({ name: `${stem}-${name}`, blob: new Blob([content], { type }) });
  switch (kind) {
    case 'sheet-pdf':
      return made('sheet.pdf', await pdfOf('sheet', parts, await letters()), 'application/pdf');
    case 'form-pdf':
      return made('form.pdf', await pdfOf('form', parts, await letters()), 'application/pdf');
    case 'debrief-pdf':
      return made('debrief.pdf', await pdfOf('debrief', parts, await letters()), 'application/pdf');
    case 'debrief-html':
      return made('debrief.html', await debriefHtml(parts), 'text/html');
    case 'sheet-csv':
      return made('sheet.csv', sheetCsv(parts), 'text/csv');
    case 'sheet-text':
      return made(
        'sheet.txt',
        [sheetText(parts.coverage, parts.catalogue, { why: false }), ...sealLines(parts.seal)].join(
          '\n',
        ),
        'text/plain',
      );
    case 'sheet-html':
      return made('sheet.html', sheetHtml(parts), 'text/html');
    case 'sheet-json':
      return made(
        'sheet.json',
        JSON.stringify({ ...record.reviewed, head: parts.head, seal: record.seal }, null, 2),
        'application/json',
      );
  }
}
