/** Coverage to documents. */
export { summaryOf, summarySentence, type Summary } from './summary.ts';
export { missingText, sheetText, type SheetOptions } from './sheet-text.ts';
export { squawkTitle, partWords } from './squawk-title.ts';
export { LONGEST_NARRATIVE, narrativeOf } from './narrative.ts';
export {
  COLUMNS,
  DISCREPANCY_NOTICE,
  discrepancyCsv,
  discrepancyJson,
  readAnswers,
  type AnswersRead,
  type AnswerStep,
  type Discrepancies,
} from './discrepancies.ts';
export { proposeJasc, type JascProposal } from './jasc.ts';
