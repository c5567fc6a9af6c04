import { liveEarHere } from '../../../src/capture/here.ts';
import { embeddedHere } from '../../../src/capture/own/here.ts';
import { parseCatalogue } from '#catalogue';
import { listeningTo, parseDictionary } from '#grammar';
import { CATALOGUES } from '#seeds';

/** The live ear over our own recogniser, for one aircraft, for the test to watch. */

const modelBase = new URL('/model/', location.href).href;
const began = performance.now();
const seconds = () => (performance.now() - began) / 1000;
let ids = 0;
const world = {
  id: () => `id-${String((ids += 1))}`,
  now: () => Date.now(),
  steady: () => performance.now() / 1000,
};

/** Every worker of the page, to be killed by the test. */
const workers: Worker[] = [];
globalThis.Worker = class extends Worker {
  constructor(url: string | URL, options?: WorkerOptions) {
    super(url, options);
    workers.push(this);
  }
};

const log: string[] = [];
const heard: { text: string; from: number | null; to: number | null; at: number; kept: boolean }[] =
  [];
let loudest = 0;

async function start(aircraft: string): Promise<void> {
  const seed = CATALOGUES.find((c) => c.name === aircraft);
  const read = parseCatalogue(seed?.text ?? '', seed?.file ?? '');
  if (!read.ok) throw new Error('The catalogue cannot be read.');
  const { catalogue } = read;
  const dictionary = await (await fetch(new URL('en-us/dict.txt', modelBase))).text();
  const pronunciations = parseDictionary(dictionary);
  const ear = liveEarHere({
    world,
    seconds,
    allowed: () => 'this-device',
    embedded: embeddedHere({
      world,
      seconds,
      modelBase,
      grammar: listeningTo(catalogue, pronunciations),
    }),
    keep: () => Promise.resolve({ kept: true }),
    agreed: () => false,
    agree: () => Promise.resolve(false),
  });
  ear.onState((state, sentence) => log.push(`${seconds().toFixed(1)} ${state}: ${sentence}`));
  ear.onNotice((notice) => log.push(`${seconds().toFixed(1)} notice: ${notice.sentence}`));
  ear.onLevel((level) => (loudest = Math.max(loudest, level)));
  ear.onHeard((h) =>
    heard.push({ text: h.text, from: h.from, to: h.to, at: seconds(), kept: h.sound !== null }),
  );
  await ear.start();
}

const own = {
  start,
  report: () => ({ log, heard, loudest, now: seconds() }),
  /** As if the platform had killed them. */
  killWorkers() {
    for (const worker of workers) worker.terminate();
  },
};
export type Own = typeof own;
declare global {
  interface Window {
    own: Own;
  }
}
window.own = own;
