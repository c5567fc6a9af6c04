/**
 * What a spreadsheet takes for a formula: a cell that begins with one of these
 * signs, in their wide forms too, also after spaces, or with a tab or a line
 * break, which some throw away before they look (OWASP, "CSV Injection"). What
 * follows may hold anything, line breaks as well. A harmless cell that begins so
 * gets an apostrophe too many; one that is missed can run a program.
 */
const SIGNS = '\\s*[=+\\-@＝＋－﹣−＠]|[\\t\\r\\n]';

/** For the writer of a table: cells to put an apostrophe before. */
export const FORMULA = new RegExp(`^(?:${SIGNS})`, 'u');

const OURS = new RegExp(`^\\s*'(?=${SIGNS})`, 'u');

/** A cell that came back, without the apostrophe that was ours. */
export function withoutApostrophe(cell: string): string {
  return cell.replace(OURS, '');
}
