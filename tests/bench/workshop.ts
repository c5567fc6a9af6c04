import { FRESH, scoreOf, summaryOf, textsOf, type Score } from './workshop/score.ts';

/** Reads the made checklist texts as drafts and holds them against their truth. With --json for a program, with --why what was missed. */
export async function main(words: string[]): Promise<number> {
  const scores = textsOf().map((file) => scoreOf(file));
  const fresh = textsOf(FRESH).map((file) => scoreOf(file, FRESH));
  if (words.includes('--json')) {
    const figures = { ...summaryOf(scores), texts: scores.length };
    console.log(
      JSON.stringify({ ...figures, fresh: { ...summaryOf(fresh), texts: fresh.length } }),
    );
    return 0;
  }
  table(scores, words.includes('--why'));
  console.log('\nWritten after the reader of drafts:');
  table(fresh, words.includes('--why'));
  return Promise.resolve(0);
}

function table(scores: readonly Score[], why: boolean): void {
  const summary = summaryOf(scores);
  console.log('text                 found     invented  limits    stations  lost');
  const cell = (text: string) => text.padEnd(10);
  for (const s of scores) {
    console.log(
      s.text.padEnd(21) +
        cell(`${s.found}/${s.checks}`) +
        cell(String(s.invented)) +
        cell(`${s.limitsRight}/${s.limits}`) +
        cell(`${s.stationsRight}/${s.stations}`) +
        String(s.linesLost),
    );
    if (why) for (const note of s.notes) console.log(`    ${note}`);
  }
  console.log(
    `\nchecks found ${summary.checksFound}, invented ${summary.checksInvented}, limits right ${summary.limitsRight}, stations right ${summary.stationsRight}, lines lost ${summary.linesLost}`,
  );
}
