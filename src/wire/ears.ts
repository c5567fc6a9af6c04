import { embeddedInBrowser, liveEarHere, type LiveEar } from '#capture';
import type { Grammar, Pronunciations } from '#grammar';
import type { Store } from '#store';
import type { World } from '#shared/log';
import { listeningParts } from './listening-parts.ts';
import type { EarNeeds } from './ear-needs.ts';

export interface EarsParts extends EarNeeds {
  readonly world: World;
  readonly store: Store;
  /** Folder that holds the recogniser's `en-us/`. */
  readonly modelBase: string;
  readonly pronunciations: Pronunciations;
  readonly grammar: Grammar;
}

/**
 * The microphone of this browser. Where "browser" is chosen in the settings the
 * sound may leave the device; otherwise nothing leaves it. Changed in mid-walk,
 * `reconsider` has to be called.
 */
export async function openEars(parts: EarsParts): Promise<LiveEar> {
  const { world, store, seconds, walk, aircraft, catalogue } = parts;
  const embedded = await embeddedInBrowser({
    world,
    seconds,
    modelBase: parts.modelBase,
    grammar: listeningParts(catalogue, parts.pronunciations),
    voice: () => parts.voice?.() ?? null,
  });
  return liveEarHere({
    world,
    seconds,
    allowed: () => (parts.ear() === 'browser' ? 'browser-service' : 'this-device'),
    // The setting is the agreement: the screens set it only after a yes to the
    // sentence that names what is sent away. So there is nobody left to ask here.
    agreed: () => parts.ear() === 'browser',
    agree: () => Promise.resolve(false),
    embedded,
    phrases: () => parts.grammar.phrases(),
    keep: parts.keepSound
      ? (parts.keep ?? ((chunk) => store.keepSound({ ...chunk, walk, aircraft, t: seconds() })))
      : null,
    ...(parts.claims ? { claim: () => store.takeRecorder() } : {}),
    onChanged: parts.onChanged,
    onInterruption: parts.onInterruption,
  });
}
