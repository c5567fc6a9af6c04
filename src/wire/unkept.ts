/** What the pilot is told while words wait to be written (R10); null when none do. */
export function unkeptSentence(waiting: number): string | null {
  if (waiting === 0) return null;
  return waiting === 1
    ? 'The last thing you said is not kept yet. Leave this page open and make room.'
    : `The last ${String(waiting)} things you said are not kept yet. Leave this page open and make room.`;
}
