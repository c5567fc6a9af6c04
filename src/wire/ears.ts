import { embeddedInBrowser, liveEarHere, type Ear } from '#capture';
import type { Grammar, Pronunciations } from '#grammar';
import type { Store } from '#store';
import type { World } from '#shared/log';
import { listeningParts } from './listening-parts.ts';
import type { EarNeeds } from './services.ts';

export interface EarsParts extends EarNeeds {
  readonly world: World;
  readonly store: Store;
  /** Folder that holds the recogniser's `en-us/`. */
  readonly modelBase: string;
  readonly pronunciations: Pronunciations;
  readonly grammar: Grammar;
}

/**
 * The microphone of this browser. "browser" was chosen in the settings, where
 * it says that the sound leaves the device; otherwise nothing leaves it.
 */
export async function openEars(kind: 'embedded' | 'browser', parts: EarsParts): Promise<Ear> {
  const { world, store, seconds, walk, aircraft, catalogue } = parts;
  const embedded = await embeddedInBrowser({
    world,
    seconds,
    modelBase: parts.modelBase,
    grammar: listeningParts(catalogue, parts.pronunciations),
  });
  return liveEarHere({
    world,
    seconds,
    allowed: () => (kind === 'browser' ? 'browser-service' : 'this-device'),
    agreed: () => kind === 'browser',
    agree: () => Promise.resolve(false),
    embedded,
    phrases: () => parts.grammar.phrases(),
    keep: parts.keepSound
      ? (chunk) => store.keepSound({ ...chunk, walk, aircraft, t: seconds() })
      : null,
    claim: () => store.takeRecorder(),
    onChanged: parts.onChanged,
    onInterruption: parts.onInterruption,
  });
}
