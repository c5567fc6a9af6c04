/** Coverage to documents. */
export { summaryOf, summarySentence, type Summary } from './summary.ts';
export { missingText, sealLines, sheetText, type SheetOptions } from './sheet-text.ts';
export { squawkTitle, partWords } from './squawk-title.ts';
export { LONGEST_NARRATIVE, narrativeOf } from './narrative.ts';
export {
  COLUMNS,
  DISCREPANCY_NOTICE,
  discrepancyCsv,
  discrepancyJson,
  deferralText,
  type Discrepancies,
} from './discrepancies.ts';
export { dayIn, type DayOrder } from './day.ts';
export { readAnswers, type AnswersHow, type AnswersRead, type AnswerStep } from './answers.ts';
export { proposeJasc, type JascProposal } from './jasc.ts';
export { editionLines, editionTold, ended, type EditionTold } from './edition-words.ts';
export { sheetCsv } from './sheet-csv.ts';
export { sheetHtml } from './sheet-html.ts';
export type { SheetParts, WalkHead } from './sheet-pdf.ts';
export type { PicturesHere } from './pictures.ts';
export type { Letters } from './letters.ts';
export type { PaperSize, Print } from './pdf-flow.ts';
import type { Discrepancies } from './discrepancies.ts';
import type { Letters } from './letters.ts';
import type { Print } from './pdf-flow.ts';
import type { SheetParts } from './sheet-pdf.ts';

type Pdf = Uint8Array<ArrayBuffer>;

/** Documents for print. What makes them is loaded when it is used. */
export async function pdfOf(
  kind: 'sheet' | 'form' | 'debrief',
  parts: SheetParts,
  letters: Letters,
): Promise<Pdf> {
  const { debriefPdf, formPdf, sheetPdf } = await import('./sheet-pdf.ts');
  return { sheet: sheetPdf, form: formPdf, debrief: debriefPdf }[kind](parts, letters);
}

/** The debrief as one page for a browser. Loaded when it is used, as the papers are. */
export async function debriefHtml(parts: SheetParts): Promise<string> {
  return (await import('./debrief-html.ts')).debriefHtml(parts);
}

export async function discrepancyPdf(list: Discrepancies, print: Print): Promise<Pdf> {
  return (await import('./discrepancy-pdf.ts')).discrepancyPdf(list, print);
}
