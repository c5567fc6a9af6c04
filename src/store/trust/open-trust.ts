import { readCounts, readHeld, versionName, versionOf, type WalkTrust } from './opened.ts';
import { erasedElsewhere, namesBytes } from './erased.ts';
import type { Held } from './held.ts';
import type { Judged } from './judge.ts';
import { besideLines, sentencesOf } from './sentences.ts';

/** A walk as it is shown, from what the judge says of it. */
export async function openedTrust(
  judged: Judged,
  mark: string | null,
  /** Every erasure on the record; asked for only where there is sound or a picture. */
  erasures: () => Promise<readonly Held[]>,
): Promise<WalkTrust> {
  const version = versionOf(judged, mark);
  const erased =
    version !== null && namesBytes(version)
      ? erasedElsewhere(judged.walk, version, await erasures())
      : [];
  const verdict = sentencesOf(judged, version);
  const others = [judged.version, ...judged.others].flatMap((v) =>
    v === null || v === version ? [] : [v],
  );
  const holding = judged.beside.said.filter((s) => s.holds).map((s) => s.event);
  return {
    counts: readCounts(version),
    after: readHeld(version?.after ?? []),
    beside: readHeld(holding),
    besideLines: [...besideLines(judged), ...erased],
    strangers: strangersIn(judged),
    verdict,
    versions: others.map((v) => ({
      name: v === judged.version ? judged.walk : versionName(judged.walk, v),
      text: sentencesOf(judged, v).text,
    })),
  };
}

/** Not told one by one: somebody who makes thousands must not make the sheet slow. */
const MOST_STRANGERS = 16;

function strangersIn(judged: Judged): WalkTrust['strangers'] {
  const counts = new Map<string, number>();
  const { version } = judged;
  for (const { event } of judged.aside)
    if (event.device !== version?.device && version?.guests.has(event.device) !== true)
      counts.set(event.device, (counts.get(event.device) ?? 0) + 1);
  return [...counts].slice(0, MOST_STRANGERS).map(([device, events]) => ({ device, events }));
}
