import { readdirSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { holdersOf, launch, type Browser } from './chromium.ts';
import { seeded } from './random.ts';
import { setStage } from './stage.ts';

/**
 * Kills the browser at random moments while somebody talks, and looks whether
 * anything that was acknowledged is gone. At every second kill it finishes, signs
 * and seals, restores, merges and takes in catalogues instead, a quarter of it on
 * a disk that refuses to be written, and looks whether anything is there in part.
 *
 *   npm run torture -- 1000 --seed 7 --json
 *
 * What it shows: no event that was acknowledged is lost when the processes of
 * the browser die. What it cannot show: a power cut, for which the record relies
 * on `durability: 'strict'` and the disk's own word.
 */
export interface TortureResult {
  kills: number;
  acknowledged: number;
  lost: number;
  unopenable: number;
  /** Chunks acknowledged, and those of them or older than 2 s at the kill that do not play. */
  chunks: number;
  chunksLost: number;
  /** Chains that do not verify, right to record not given back, walk not in the list. */
  broken: number;
  /** Starts that found a process of the killed browser alive: above 0, a loss may be the harness's own. */
  survivors: number;
  /** Times the database was made: above 1, the browser threw one away. */
  made: number;
  /** Times the second copy gave something back. */
  broughtBack: number;
  /** Acts that were acknowledged: signatures, restores, merges, catalogues. */
  acts: number;
  /** Acts that a full disk refused, in words. */
  actsRefused: number;
  /** Acknowledged acts that are gone, and acts of which a part is there: a signature without its seal, half a walk. */
  actsBroken: number;
  seconds: number;
  seed: number;
}

/** What was kept longer than this before the kill has to play (the record's own promise). */
const SOUND_SECONDS = 2;
/** The whole log is read and verified after this many kills, and at the end. */
const FULL_LOOK_EVERY = 50;

interface Look {
  recorderFree: boolean;
  listed: boolean;
  ids: string[];
  ok: boolean;
  broken: unknown;
  playable: number[];
}

/** One life of the browser, as far as it told us. */
interface Life {
  walk: string | null;
  said: string[];
  made: { chunk: number; at: number }[];
  kept: number[];
  killedAt: number;
  /** Acts by what they are about: how far they came. */
  acts: Map<string, 'begun' | 'done' | 'refused'>;
}

/**
 * When to kill, in milliseconds after the talk began. Mostly early, in the
 * middle of the first transactions; a quarter late enough that sound of more
 * than 2 s before is there to be looked for.
 */
function moment(random: () => number): number {
  return random() < 0.75 ? 20 + random() * 700 : 2200 + random() * 900;
}

export async function torture(
  kills: number,
  seed: number,
  progress: (line: string) => void = () => undefined,
): Promise<TortureResult> {
  const stage = await setStage('torture');
  const random = seeded(seed);
  const started = Date.now();
  const all = new Set<string>();
  /** Each lost event counts once, however often it is missed. */
  const gone = new Set<string>();
  const result: TortureResult = {
    kills: 0,
    acknowledged: 0,
    lost: 0,
    unopenable: 0,
    chunks: 0,
    chunksLost: 0,
    broken: 0,
    survivors: 0,
    made: 0,
    broughtBack: 0,
    acts: 0,
    actsRefused: 0,
    actsBroken: 0,
    seconds: 0,
    seed,
  };
  let life: Life = newLife();
  const start = () =>
    launch({
      executable: stage.executable,
      profile: stage.profile,
      url: stage.url,
      onTold: (text) => {
        const heard = hear(life, text, progress);
        if (heard === 'made') result.made += 1;
        if (heard === 'brought back') result.broughtBack += 1;
      },
    });

  try {
    for (let n = 0; n <= kills; n += 1) {
      const before = life;
      life = newLife();
      const holders = holdersOf(stage.profile);
      if (holders.length > 0) {
        result.survivors += 1;
        progress(`kill ${n}: still there: ${holders.join(', ')}`);
      }
      const madeBefore = result.made;
      const lies = n === 0 ? '' : lying(stage.profile);
      const browser = await start();
      if (!(await opens(browser))) {
        result.unopenable += 1;
        progress(`kill ${n}: the log does not open`);
      } else {
        if (n > 0 && result.made > madeBefore)
          progress(`it lay like this before the start:\n${lies}\n${browser.log()}`);
        if (before.walk !== null) await lookAfter(browser, before, result, gone, progress);
        if (before.acts.size > 0) await lookAtActs(browser, before, result, progress);
        if (n === kills || (n > 0 && n % FULL_LOOK_EVERY === 0)) {
          const look = (await browser.evaluate('ordeal.lookAtAll()')) as Look;
          const there = new Set(look.ids);
          for (const id of all) if (!there.has(id)) gone.add(id);
          result.lost = gone.size;
          if (!look.ok) {
            result.broken += 1;
            progress(`after ${n} kills: ${JSON.stringify(look.broken)}`);
          }
          progress(`${n} kills, ${all.size} acknowledged, ${result.lost} lost`);
        }
      }
      if (n < kills) {
        // In turn: talking, and what has to happen wholly or not at all.
        const what = n % 2 === 0 ? 'talk' : 'act';
        await browser.evaluate(`ordeal.${what}(${Math.floor(random() * 2 ** 31)})`);
        await new Promise((resolve) => setTimeout(resolve, moment(random)));
        // What is said from here on was not acknowledged before the kill.
        life.killedAt = Date.now();
        await browser.kill();
        result.kills += 1;
        for (const id of life.said) all.add(id);
        result.acknowledged = all.size;
        result.chunks += life.kept.length;
      } else await browser.kill();
    }
  } finally {
    await stage.close();
  }
  result.seconds = Math.round((Date.now() - started) / 100) / 10;
  return result;
}

/** The files of the databases of a profile, with their sizes. */
function lying(profile: string): string {
  const lines: string[] = [];
  const roots = [join(profile, 'Default', 'IndexedDB'), join(profile, 'Default', 'WebStorage')];
  const walk = (folder: string): void => {
    let names: string[] = [];
    try {
      names = readdirSync(folder);
    } catch {
      lines.push(`${folder}: not there`);
    }
    for (const name of names) {
      const path = join(folder, name);
      const kind = statSync(path, { throwIfNoEntry: false });
      if (kind?.isDirectory() === true) walk(path);
      else lines.push(`${path.slice(profile.length)} ${kind?.size ?? 'gone'}`);
    }
  };
  roots.forEach(walk);
  return lines.join('\n');
}

function newLife(): Life {
  return { walk: null, said: [], made: [], kept: [], killedAt: 0, acts: new Map() };
}

/** Takes in what the page says, and what of it is to be counted. */
function hear(
  life: Life,
  text: string,
  progress: (line: string) => void,
): 'made' | 'brought back' | null {
  const told = JSON.parse(text) as Record<string, unknown>;
  if (typeof told['said'] === 'string') {
    life.said.push(told['said']);
    life.walk = String(told['walk']);
  }
  if (typeof told['made'] === 'number')
    life.made.push({ chunk: told['made'], at: Number(told['at']) });
  if (typeof told['kept'] === 'number') life.kept.push(told['kept']);
  const of = String(told['of']);
  if (told['begins'] !== undefined) life.acts.set(of, 'begun');
  if (told['did'] !== undefined) life.acts.set(of, 'done');
  if (told['refused'] !== undefined) life.acts.set(of, 'refused');
  if (told['failed'] !== undefined) progress(`the page failed: ${String(told['failed'])}`);
  if (typeof told['broughtBack'] === 'string') {
    progress(told['broughtBack']);
    return 'brought back';
  }
  if (told['made'] !== 'database') return null;
  progress(`a database was made: loss ${String(told['loss'])} ${String(told['why'])}`);
  return 'made';
}

async function opens(browser: Browser): Promise<boolean> {
  try {
    return (await browser.evaluate('ordeal.opened()')) === true;
  } catch {
    return false;
  }
}

async function lookAfter(
  browser: Browser,
  life: Life,
  result: TortureResult,
  gone: Set<string>,
  progress: (line: string) => void,
): Promise<void> {
  const look = (await browser.evaluate(`ordeal.look(${JSON.stringify(life.walk)})`)) as Look;
  const there = new Set(look.ids);
  const lost = life.said.filter((id) => !there.has(id));
  for (const id of lost) gone.add(id);
  result.lost = gone.size;
  if (lost.length > 0) progress(`lost: ${lost.join(', ')}`);
  if (!look.ok || !look.recorderFree || !look.listed) {
    result.broken += 1;
    progress(`broken: ${JSON.stringify({ ...look, ids: look.ids.length })}`);
  }
  const old = life.made.filter((m) => m.at < life.killedAt - SOUND_SECONDS * 1000);
  const owed = new Set([...life.kept, ...old.map((m) => m.chunk)]);
  const silent = [...owed].filter((chunk) => !look.playable.includes(chunk));
  result.chunksLost += silent.length;
  if (silent.length > 0) progress(`chunks that do not play: ${silent.join(', ')}`);
}

interface ActLook {
  of: string;
  there: boolean;
  signed: boolean;
  whole: boolean;
}

/** What was acknowledged is there and whole; nothing is there in part. */
async function lookAtActs(
  browser: Browser,
  life: Life,
  result: TortureResult,
  progress: (line: string) => void,
): Promise<void> {
  const asked = JSON.stringify([...life.acts.keys()]);
  const looks = (await browser.evaluate(`ordeal.lookAtActs(${asked})`)) as ActLook[];
  for (const look of looks) {
    const state = life.acts.get(look.of);
    if (state === 'done') result.acts += 1;
    if (state === 'refused') result.actsRefused += 1;
    const lost = state === 'done' && !(look.there && look.whole);
    const half = look.signed && !look.whole;
    if (!lost && !half) continue;
    result.actsBroken += 1;
    progress(`act ${state ?? ''}: ${JSON.stringify(look)}`);
  }
}

const DEFAULT_KILLS = 200;

export async function main(words: string[]): Promise<number> {
  const json = words.includes('--json');
  const seedAt = words.indexOf('--seed');
  const seed = seedAt < 0 ? 20260105 : Number(words[seedAt + 1]);
  const count = words.find((w, i) => /^\d+$/.test(w) && (seedAt < 0 || i !== seedAt + 1));
  const kills = count === undefined ? DEFAULT_KILLS : Number(count);
  if (!Number.isInteger(seed)) {
    console.error(
      '--seed takes a whole number. Usage: npm run torture -- [KILLS] [--seed N] [--json]',
    );
    return 2;
  }
  const r = await torture(kills, seed, (line) => console.error(line));
  if (json) console.log(JSON.stringify(r));
  else
    console.log(
      [
        `kills                              ${r.kills}  (seed ${r.seed}, ${r.seconds} s)`,
        `utterances acknowledged            ${r.acknowledged}`,
        `of those lost                      ${r.lost}`,
        `logs that could not be opened      ${r.unopenable}`,
        `logs that do not verify            ${r.broken}`,
        `chunks of sound acknowledged       ${r.chunks}`,
        `chunks that do not play            ${r.chunksLost}`,
        `databases that the browser made    ${r.made}  (more than 1: it threw one away)`,
        `times the second copy gave back    ${r.broughtBack}`,
        `acts acknowledged                  ${r.acts}  (sign and seal, restore, merge, catalogue)`,
        `acts that a full disk refused      ${r.actsRefused}`,
        `acts lost, or there in part        ${r.actsBroken}`,
        `starts beside a survivor           ${r.survivors}`,
      ].join('\n'),
    );
  const wrong = r.lost + r.unopenable + r.broken + r.chunksLost + r.survivors + r.actsBroken;
  return wrong === 0 ? 0 : 1;
}
