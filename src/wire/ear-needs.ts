import type { RecordedChunk, VoiceSettings } from '#capture';
import type { EarKind, WalkView } from '#screens';
import type { World } from '#shared/log';
import type { EarHooks, OpenedEar } from './hearing.ts';

/** Takes a slice of sound, and tells whether it could be kept. */
export type KeepSound = (
  chunk: RecordedChunk,
) => Promise<{ readonly kept: true } | { readonly kept: false; readonly why: string }>;

/** What an ear has to know of the walk that it listens to. */
export interface EarNeeds extends EarHooks {
  /** null: for a squawk with no walk begun. */
  readonly walk: string | null;
  readonly edition: string;
  readonly aircraft: string;
  readonly catalogue: WalkView['catalogue'];
  readonly keepSound: boolean;
  /** Where kept sound goes; left out: to the record at once. */
  readonly keep?: KeepSound;
  /** Whether it takes the right to listen, of which there is one on a device. */
  readonly claims: boolean;
  /** The setting as it stands now: it may be changed in mid-walk. */
  ear(): EarKind;
  /** What is known of the voice of whoever speaks; left out or null: nothing. */
  voice?(): VoiceSettings | null;
}

/** Opens ears outside any walk: no sound is kept but what `keep` takes. */
export function earOutside(
  world: World,
  open: (kind: EarKind, needs: EarNeeds) => Promise<OpenedEar>,
): (
  needs: Pick<EarNeeds, 'edition' | 'catalogue' | 'aircraft' | 'claims' | 'ear' | 'keep'>,
) => Promise<OpenedEar> {
  return (needs) => {
    const began = world.steady();
    return open(needs.ear() === 'browser' ? 'browser' : 'embedded', {
      edition: needs.edition,
      catalogue: needs.catalogue,
      aircraft: needs.aircraft,
      claims: needs.claims,
      ear: () => needs.ear(),
      walk: null,
      keepSound: needs.keep !== undefined,
      ...(needs.keep === undefined ? {} : { keep: needs.keep }),
      seconds: () => world.steady() - began,
      onChanged: () => undefined,
      onInterruption: () => undefined,
    });
  };
}
