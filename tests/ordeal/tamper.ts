import { seeded } from './random.ts';
import { bytesThroughApp, type Change } from './tamper/app-bytes.ts';
import { appRoute, honestRead, openApp, PAGES } from './tamper/app.ts';
import { attacksOn, type Attack } from './tamper/attacks.ts';
import {
  brought,
  contentOf,
  judgeBrought,
  judgeOwner,
  judgeVerify,
  keepsFinding,
  stranger,
  terminal,
  type Outcome,
  type Shown,
  type Terminal,
} from './tamper/routes.ts';
import { specimens, type Specimen } from './tamper/specimen.ts';

/**
 * Somebody changes a file and hands it on: is it refused, or told, or does
 * nobody notice?
 *
 *   npm run tamper -- [--seed N] [--stride N] [--app N] [--app-minutes N] [--only KIND] [--json]
 *
 * Every single byte of each file is changed (one bit of it, chosen by the seed;
 * with --stride only every Nth), and everything of `tamper/attacks.ts` is done.
 * Each file goes through `talkround verify` and through bringing in on a device
 * that has never seen the walk, or on the one that made it; a seeded sample of
 * --app files goes through the app itself in Chromium.
 *
 * With --app-minutes the changed bytes go through the app's screens too, each by
 * the choice of a file in the list of walks, in an order that reaches every part
 * of the files early; `bytesLeft` says how many were not reached.
 *
 * Not tried, because it is the same for every reader: a byte of which nothing is
 * read by `openBackup`, through which everything goes that reads a backup.
 */
export interface TamperResult {
  tried: number;
  refused: number;
  shown: number;
  silent: number;
  /** Files of which nothing that anybody reads was changed, such as a time in the zip: not tried. */
  same: number;
  /** Tried through the app in Chromium, counted above as well. */
  app: number;
  /** Changed bytes that were to go through the app and did not get there in the time given. */
  bytesLeft: number;
  seconds: number;
  seed: number;
  perKind: Record<string, Record<Outcome, number>>;
  /** The first silent ones, by name. */
  finds: string[];
}

const FINDS_TOLD = 20;

export interface TamperOptions {
  readonly seed: number;
  /** Every Nth byte. */
  readonly stride: number;
  /** Files that go through the app. */
  readonly app: number;
  /** Minutes for changed bytes through the app; 0: none go there. */
  readonly appMinutes?: number;
  readonly only: string | null;
}

export async function tamper(
  { seed, stride, app, appMinutes = 0, only }: TamperOptions,
  progress: (line: string) => void = () => undefined,
): Promise<TamperResult> {
  const started = Date.now();
  const random = seeded(seed);
  const result: TamperResult = {
    tried: 0,
    refused: 0,
    shown: 0,
    silent: 0,
    same: 0,
    app: 0,
    bytesLeft: 0,
    seconds: 0,
    seed,
    perKind: {},
    finds: [],
  };
  const note = (kind: string, name: string, outcome: Outcome) => {
    const per = (result.perKind[kind] ??= { refused: 0, shown: 0, silent: 0, same: 0 });
    per[outcome] += 1;
    result[outcome] += 1;
    if (outcome === 'same') return;
    result.tried += 1;
    if (outcome === 'silent' && result.finds.length < FINDS_TOLD) {
      result.finds.push(name);
      progress(`SILENT: ${name}`);
    }
  };
  const shell = terminal();
  try {
    const all = await specimens();
    const forApp: { specimen: Specimen; attack: Attack }[] = [];
    for (const specimen of all) {
      const attacks = (await attacksOn(specimen)).filter((a) => only === null || a.kind === only);
      progress(`${specimen.name}: ${specimen.file.length} bytes, ${attacks.length} other attacks`);
      if (only === null || only === 'byte') await everyByte(specimen, stride, random, shell, note);
      const honest = await honestOf(specimen, shell);
      for (const attack of attacks) await once(specimen, attack, honest, shell, note);
      for (const attack of attacks)
        if (attack.where === 'stranger') forApp.push({ specimen, attack });
    }
    const sample = Array.from({ length: Math.min(app, forApp.length) }, () => {
      const [one] = forApp.splice(Math.floor(random() * forApp.length), 1);
      return one;
    }).filter((one) => one !== undefined);
    progress(
      `before the app: tried ${result.tried}, refused ${result.refused}, shown ${result.shown}, silent ${result.silent}`,
    );
    const bytes = only === null || only === 'byte' ? all : [];
    if (sample.length > 0 || appMinutes > 0) {
      const opened = await openApp();
      const noteApp: Note = (kind, name, outcome) => {
        result.app += 1;
        note(kind, name, outcome);
        if (result.app % TOLD_EVERY === 0) progress(`app: ${result.app}, silent ${result.silent}`);
      };
      try {
        await appRoute(opened, sample, (name, outcome) => noteApp('app', name, outcome));
        const until = Date.now() + appMinutes * 60_000;
        if (appMinutes > 0)
          result.bytesLeft = await bytesInApp(opened, bytes, random, until, noteApp);
      } finally {
        await opened.close();
      }
    }
  } finally {
    shell.close();
  }
  result.seconds = Math.round((Date.now() - started) / 100) / 10;
  return result;
}

/** Lines of progress would fill a screen otherwise. */
const TOLD_EVERY = 100;
/** Of each file one byte in so many is tried in a turn, so that each part of it is reached early. */
const TURNS = 32;

/** Every byte of each file through the app, until time is up; gives how many are left. */
async function bytesInApp(
  app: Awaited<ReturnType<typeof openApp>>,
  all: readonly Specimen[],
  random: () => number,
  until: number,
  note: Note,
): Promise<number> {
  const jobs: { specimen: Specimen; changes: Change[] }[] = [];
  for (let turn = 0; turn < TURNS; turn += 1)
    for (const specimen of all) {
      const changes: Change[] = [];
      for (let at = turn; at < specimen.file.length; at += TURNS)
        changes.push({ at, bit: 1 << Math.floor(random() * 8) });
      jobs.push({ specimen, changes });
    }
  const honest = new Map<Specimen, Awaited<ReturnType<typeof honestRead>>>();
  const contents = new Map<Specimen, string>();
  for (const specimen of all) {
    honest.set(specimen, await honestRead(app, specimen, 1));
    contents.set(specimen, await contentOf(specimen.file));
  }
  let left = 0;
  const hand = async () => {
    for (let job = jobs.shift(); job !== undefined; job = jobs.shift()) {
      const { specimen, changes } = job;
      if (Date.now() > until) {
        left += changes.length;
        continue;
      }
      const name = ({ at, bit }: Change) => `${specimen.name}: byte ${at} changed by ${bit}, app`;
      const tried: Change[] = [];
      for (const change of changes)
        if ((await contentOf(changed(specimen, change))) !== contents.get(specimen))
          tried.push(change);
      const known = honest.get(specimen);
      if (known === undefined) continue;
      left += await bytesThroughApp(app, specimen, known, tried, until, (change, outcome) =>
        note('byte app', name(change), outcome),
      );
    }
  };
  await Promise.all(Array.from({ length: PAGES }, hand));
  return left;
}

function changed({ file }: Specimen, { at, bit }: Change): Uint8Array<ArrayBuffer> {
  const other = file.slice();
  other[at] = (other[at] ?? 0) ^ bit;
  return other;
}

type Note = (kind: string, name: string, outcome: Outcome) => void;

async function everyByte(
  specimen: Specimen,
  stride: number,
  random: () => number,
  shell: Terminal,
  note: Note,
): Promise<void> {
  const honest = await shell.verify(specimen.file);
  const content = await contentOf(specimen.file);
  const here = await brought(await stranger(), specimen.walk, [specimen.file]);
  for (let at = 0; at < specimen.file.length; at += 1) {
    const bit = 1 << Math.floor(random() * 8);
    if (at % stride !== 0) continue;
    const file = changed(specimen, { at, bit });
    const name = `${specimen.name}: byte ${at} changed by ${bit}`;
    if ((await contentOf(file)) === content) {
      note('byte', name, 'same');
      continue;
    }
    note('byte', `${name}, verify`, judgeVerify(honest, await shell.verify(file)));
    const got = await brought(await stranger(), specimen.walk, [file]);
    note('byte', `${name}, brought in`, judgeBrought(here, got));
  }
}

/** What comes of the honest file, worked out once. */
interface Honest {
  readonly verified: { code: number; text: string };
  /** Brought in once, and twice. */
  readonly brought: readonly [Shown, Shown];
  readonly owner: Shown;
}

async function honestOf(specimen: Specimen, shell: Terminal): Promise<Honest> {
  const { file, walk, owner } = specimen;
  return {
    verified: await shell.verify(file),
    brought: [
      await brought(await stranger(), walk, [file]),
      await brought(await stranger(), walk, [file, file]),
    ],
    owner: await brought(owner, walk, [file]),
  };
}

async function once(
  specimen: Specimen,
  attack: Attack,
  { verified, brought: twice, owner }: Honest,
  shell: Terminal,
  note: Note,
): Promise<void> {
  const files = await attack.files();
  const name = `${specimen.name}: ${attack.name}`;
  for (const file of files)
    if (file !== specimen.file)
      note(attack.kind, `${name}, verify`, judgeVerify(verified, await shell.verify(file)));
  if (attack.where === 'owner') {
    if (specimen.name === 'older') return;
    const got = await brought(specimen.owner, specimen.walk, files);
    note(attack.kind, `${name}, on the device of the maker`, judgeOwner(owner, got));
    return;
  }
  const got = await brought(await stranger(), specimen.walk, files);
  const here = twice[files.length > 1 ? 1 : 0];
  const outcome = keepsFinding(specimen, files, got) ? judgeBrought(here, got) : 'silent';
  note(attack.kind, `${name}, brought in`, outcome);
}

const USAGE =
  'Usage: npm run tamper -- [--seed N] [--stride N] [--app N] [--app-minutes N] [--only KIND] [--json]';

export async function main(given: string[]): Promise<number> {
  const number = (name: string, otherwise: number) => {
    const at = given.indexOf(name);
    return at < 0 ? otherwise : Number(given[at + 1]);
  };
  const onlyAt = given.indexOf('--only');
  const options = {
    seed: number('--seed', 20260105),
    stride: number('--stride', 1),
    app: number('--app', 40),
    appMinutes: number('--app-minutes', 0),
    only: onlyAt < 0 ? null : (given[onlyAt + 1] ?? null),
  };
  const { seed, stride, app, appMinutes } = options;
  if (![seed, stride, app, appMinutes].every(Number.isInteger) || options.stride < 1) {
    console.error(USAGE);
    return 2;
  }
  const r = await tamper(options, (line) => console.error(line));
  if (given.includes('--json')) console.log(JSON.stringify(r));
  else {
    for (const [kind, per] of Object.entries(r.perKind))
      console.log(
        `${kind.padEnd(10)} refused ${per.refused}  shown ${per.shown}  silent ${per.silent}  same ${per.same}`,
      );
    console.log(
      `tried ${r.tried}  refused ${r.refused}  shown ${r.shown}  silent ${r.silent}  (seed ${r.seed}, ${r.seconds} s)`,
    );
  }
  return r.silent === 0 ? 0 : 1;
}
