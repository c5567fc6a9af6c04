import { launch } from './chromium.ts';
import { setStage } from './stage.ts';

/**
 * Four simulated hours of talk at speed, in Chromium, walk after walk of half
 * an hour: does the heap grow, and do appends get slower?
 *
 *   npm run soak -- [HOURS] [--walk MINUTES] [--one-copy] [--json]
 *
 * `--one-copy` leaves the second copy out, to see what it costs.
 * `--walk 240` makes it one walk. Its own events and coverage then stay in the
 * heap as long as it is open, which is not a leak and counts all the same.
 */
export interface SoakResult {
  hours: number;
  /** Length of one walk, in minutes. */
  walkMinutes: number;
  walks: number;
  /**
   * Of the page's own heap after collecting garbage, from the first quarter of
   * an hour to the end; with several walks, from the end of the first to the
   * end of the last.
   */
  heapGrowthMB: number;
  /** 95 % of the appends of the first and the last quarter of an hour were not slower, in ms. */
  appendMsP95First: number;
  appendMsP95Last: number;
  utterances: number;
  events: number;
  verified: boolean;
  /** Real seconds that it took. */
  seconds: number;
}

const QUARTER_MINUTES = 15;
const WALK_MINUTES = 30;
/** Where we want to stand: a phone has a hundred times the heap, and 20 ms are not felt. */
export const MAX_HEAP_GROWTH_MB = 20;
export const MAX_APPEND_MS = 20;
/** "No slower at the end": times on a shared machine differ by as much by themselves. */
export const MAX_SLOWDOWN = 1.5;

export async function soak(
  hours: number,
  seed: number,
  walkMinutes = WALK_MINUTES,
  progress: (line: string) => void = () => undefined,
  oneCopy = false,
): Promise<SoakResult> {
  const stage = await setStage('soak', 'soak.html');
  const started = Date.now();
  try {
    const browser = await launch({
      executable: stage.executable,
      profile: stage.profile,
      url: `${stage.url}soak.html${oneCopy ? '?one-copy' : ''}`,
      onTold: progress,
    });
    try {
      await browser.evaluate(`ordeal.open(${seed}, ${walkMinutes})`);
      await browser.send('HeapProfiler.enable');
      const heap = async () => {
        await browser.send('HeapProfiler.collectGarbage');
        return Number((await browser.send('Runtime.getHeapUsage'))['usedSize']) / 1024 / 1024;
      };
      const p95s: number[] = [];
      const heaps: number[] = [];
      for (let quarter = 0; quarter < hours * 4; quarter += 1) {
        const times = (await browser.evaluate(`talk(${QUARTER_MINUTES})`)) as number[];
        p95s.push(p95(times));
        heaps.push(await heap());
        progress(
          `${(quarter + 1) / 4} h: append p95 ${round(p95s.at(-1))} ms, heap ${round(heaps.at(-1))} MB`,
        );
      }
      const end = (await browser.evaluate('end()')) as {
        said: number;
        events: number;
        walks: number;
        ok: boolean;
      };
      // Compared at the same place of a walk: as much of it in the heap.
      const sameplace = walkMinutes < hours * 60 ? Math.ceil(walkMinutes / QUARTER_MINUTES) - 1 : 0;
      return {
        hours,
        walkMinutes,
        walks: end.walks,
        heapGrowthMB: round((heaps.at(-1) ?? 0) - (heaps[sameplace] ?? 0)),
        appendMsP95First: round(p95s[0]),
        appendMsP95Last: round(p95s.at(-1)),
        utterances: end.said,
        events: end.events,
        verified: end.ok,
        seconds: Math.round((Date.now() - started) / 1000),
      };
    } finally {
      await browser.kill();
    }
  } finally {
    await stage.close();
  }
}

function p95(times: readonly number[]): number {
  const sorted = [...times].sort((a, b) => a - b);
  return sorted[Math.min(sorted.length - 1, Math.floor(sorted.length * 0.95))] ?? 0;
}
function round(n: number | undefined): number {
  return Math.round((n ?? 0) * 100) / 100;
}

export async function main(words: string[]): Promise<number> {
  const walkAt = words.indexOf('--walk');
  const walk = walkAt < 0 ? undefined : Number(words[walkAt + 1]);
  const isHours = (w: string, i: number) =>
    /^\d+(\.\d+)?$/.test(w) && (walkAt < 0 || i !== walkAt + 1);
  const hours = Number(words.find(isHours) ?? 4);
  const r = await soak(
    hours,
    20260105,
    walk,
    (line) => console.error(line),
    words.includes('--one-copy'),
  );
  if (words.includes('--json')) console.log(JSON.stringify(r));
  else
    console.log(
      [
        `hours of talk                      ${r.hours}  (in ${r.seconds} s)`,
        `walks, utterances, events          ${r.walks}, ${r.utterances}, ${r.events}`,
        `heap growth                        ${r.heapGrowthMB} MB`,
        `append p95, first quarter          ${r.appendMsP95First} ms`,
        `append p95, last quarter           ${r.appendMsP95Last} ms`,
        `the log verifies                   ${r.verified ? 'yes' : 'NO'}`,
      ].join('\n'),
    );
  const slower = r.appendMsP95Last > Math.max(MAX_APPEND_MS, r.appendMsP95First * MAX_SLOWDOWN);
  return r.verified &&
    r.heapGrowthMB < MAX_HEAP_GROWTH_MB &&
    r.appendMsP95Last < MAX_APPEND_MS &&
    !slower
    ? 0
    : 1;
}
