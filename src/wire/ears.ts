import { typedEar, type Ear } from '#capture';
import type { EarKind } from '#screens';
import type { Store } from '#store';
import type { World } from '#shared/log';
import type { EarNeeds } from './services.ts';

export interface EarsParts extends EarNeeds {
  readonly world: World;
  readonly store: Store;
  readonly modelBase: string;
}

export function openEars(_kind: EarKind, parts: EarsParts): Ear {
  return typedEar(parts);
}
