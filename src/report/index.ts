/** Coverage to documents. */
export { summaryOf, summarySentence, type Summary } from './summary.ts';
export { missingText, sheetText, type SheetOptions } from './sheet-text.ts';
