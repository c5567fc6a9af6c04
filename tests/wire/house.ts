import { readFileSync } from 'node:fs';
import { typedEar } from '#capture';
import { createGrammar, parseDictionary } from '#grammar';
import type { Services } from '#screens';
import { createVoice } from '#speak';
import { memoryStore, type Store } from '#store';
import type { World } from '#shared/log';
import { hashOfScores, withName } from '#wire';
import { liveValue } from '../../src/wire/live-value.ts';
import type { Readers } from '../../src/wire/readers.ts';
import { createServices, type ServiceParts } from '../../src/wire/services.ts';
import { testLetters } from '../letters.ts';
import { testWeights } from '../weights.ts';

let dictionary: ReturnType<typeof parseDictionary> | null = null;
const grammars = new Map<string, ReturnType<typeof createGrammar>>();

/** Grammars over the dictionary as it is installed; each is made once for all tests of a file. */
const readers: Readers = {
  pronunciations: () => {
    dictionary ??= parseDictionary(
      readFileSync('node_modules/soundswallower/model/en-us/dict.txt', 'utf8'),
    );
    return Promise.resolve(dictionary);
  },
  weights: () => Promise.resolve(testWeights()),
  async grammarFor({ edition, catalogue }) {
    const known = grammars.get(edition);
    if (known !== undefined) return known;
    const grammar = createGrammar(catalogue, {
      pronunciations: await readers.pronunciations(),
      weights: testWeights(),
    });
    const made = withName(grammar, hashOfScores(readFileSync('public/reader/scores.bin')));
    grammars.set(edition, made);
    return made;
  },
};

/** A world whose clocks move only when they are told to; ids are in order of making. */
export function testWorld(from: string): World & { pass(seconds: number): void } {
  let now = Date.parse(from);
  let steady = 100;
  let ids = 0;
  return {
    id: () => `e${String((ids += 1)).padStart(6, '0')}`,
    now: () => now,
    steady: () => steady,
    pass(seconds) {
      now += seconds * 1000;
      steady += seconds;
    },
  };
}

/** The whole house in Node: the real stages over a store in memory, typed words, and a voice whose words are kept. */
export async function houseFor(
  world: World,
  parts: Partial<Pick<ServiceParts, 'openEar' | 'openEarCheck' | 'hearSound' | 'school'>> = {},
  kept?: Store,
): Promise<{ house: Services; store: Store; spoken: string[] }> {
  const store = kept ?? (await memoryStore(world));
  const spoken: string[] = [];
  const house = await createServices({
    store,
    world,
    readers,
    letters: () => Promise.resolve(testLetters()),
    openEar: (_, needs) => Promise.resolve(typedEar({ world, seconds: needs.seconds })),
    openVoice: (needs, settings) =>
      createVoice({
        ...needs,
        synth: {
          able: true,
          say(text, started) {
            spoken.push(text);
            started();
            return Promise.resolve(true);
          },
          cancel: () => undefined,
        },
        sounder: { sound: () => Promise.resolve() },
        wait: () => () => undefined,
        talk: () => settings().talk,
      }),
    hearSound: () => Promise.reject(new Error('no sound here')),
    headset: { on: () => Promise.resolve(true), off: () => undefined, state: () => undefined },
    updates: liveValue(null),
    trouble: liveValue<string | null>(null),
    ...parts,
  });
  return { house, store, spoken };
}
