import type { Outcome, Paper, WalkRecord } from '#screens';
import { good } from './outcome.ts';

/** The documents of a walk. */
export async function paperOf(
  record: WalkRecord,
  kind: Paper,
  _size: 'a4' | 'letter',
): Promise<Outcome<{ name: string; blob: Blob }>> {
  const { sheetText } = await import('#report');
  const text = sheetText(record.coverage, record.catalogue, { why: true });
  return good({ name: `${kind}.txt`, blob: new Blob([text], { type: 'text/plain' }) });
}
