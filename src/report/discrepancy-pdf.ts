import { deferralText, DISCREPANCY_NOTICE, type Discrepancies } from './discrepancies.ts';
import { reviewWords } from '#shared/coverage';
import { narrativeOf } from './narrative.ts';
import { pdfFlow, type Print } from './pdf-flow.ts';
import { drawPictures } from './sheet-pdf.ts';
import type { Squawk } from '#shared/squawk';
import { lifeLines } from '#shared/steps';
import { squawkTitle } from './squawk-title.ts';

/** The dated list of discrepancies of one aircraft, with room for the mechanic's answer. */
export async function discrepancyPdf(
  list: Discrepancies,
  print: Print,
): Promise<Uint8Array<ArrayBuffer>> {
  const dated = new Date(list.at).toISOString().slice(0, 10);
  const flow = await pdfFlow(`Talkround discrepancies: ${list.aircraft}, ${dated}`, print);
  flow.block([
    { text: `Discrepancies of ${list.aircraft}`, size: 18, bold: true, level: 1 },
    { text: `Dated ${dated}; ${list.squawks.length} in all.`, above: 4 },
    { text: DISCREPANCY_NOTICE, pale: true, size: 9, above: 4 },
    ...boldLine(list.guessed ?? null),
  ]);
  for (const squawk of list.squawks) {
    const pictures = list.pictures?.get(squawk.id) ?? [];
    const ruled = squawk.state === 'open' || squawk.state === 'deferred';
    const title = squawkTitle(squawk.fault, list.catalogue);
    flow.block(
      [
        { text: title, bold: true, above: 12, level: 2 },
        {
          text: `${squawk.state}${squawk.jasc === null ? '' : `; JASC ${squawk.jasc}`}; squawk ${squawk.id}`,
          pale: true,
          size: 8,
        },
        ...boldLine(list.overdue?.get(squawk.id) ?? null),
        { text: narrativeOf(squawk, list.catalogue) },
        ...lines((list.reviews?.get(squawk.id) ?? []).map((r) => `Reviewed by ${reviewWords(r)}`)),
        ...lines([
          deferralText(squawk),
          workText(squawk),
          ...lifeLines(squawk),
          ...squawk.irregular,
        ]),
      ],
      ruled && pictures.length === 0,
    );
    await drawPictures(flow, pictures, list.picturesHere, title);
    if (ruled) {
      flow.rule('Rectified by, certificate number and kind, work reference, date');
    }
  }
  return flow.bytes();
}

function boldLine(text: string | null): { text: string; bold: true }[] {
  return text === null ? [] : [{ text, bold: true }];
}

function lines(texts: readonly (string | null)[]): { text: string }[] {
  return texts.flatMap((text) => (text === null ? [] : [{ text }]));
}

/** The latest work on it; null where none is written down. */
function workText(squawk: Squawk): string | null {
  const work = squawk.history.map((h) => h.step).findLast((s) => s.step === 'rectified');
  return work?.step === 'rectified'
    ? `Rectified by ${work.by}, ${work.certificateKind} ${work.certificate}, work reference ${work.reference}, ${work.date}.`
    : null;
}
