import { heardOf, type Ear, type RecordedChunk } from '#capture';
import type { Dictated, Dictation, EarKind } from '#screens';
import type { World } from '#shared/log';
import type { EarNeeds, KeepSound } from './ear-needs.ts';
import { liveValue } from './live-value.ts';
import type { Edition } from './shelf.ts';

type Now = ReturnType<Dictation['now']['get']>;

/** Shown until words come again: what was said is not among what will be filed. */
const NOT_UNDERSTOOD = 'Not understood, and not written down: say it again, or type it.';

const OFF: Now = { state: 'off', words: '', why: null };

export interface DictationParts {
  readonly world: World;
  openEar(
    needs: Pick<EarNeeds, 'edition' | 'catalogue' | 'aircraft' | 'claims' | 'ear' | 'keep'>,
  ): Promise<Ear>;
  editionFor(aircraft: string): Promise<Edition>;
  settings(): { readonly ear: EarKind; readonly keepSound: boolean };
}

/** One dictation: its ear, and what came of it so far. */
interface Take {
  ear: Ear | null;
  readonly heard: Dictated['heard'][number][];
  /** Nothing is on the disk before it is filed: a dictation that is left leaves no sound behind. */
  readonly sound: RecordedChunk[];
  partial: string;
}

/** A squawk dictated with no walk begun: words as they come, with their sound, filed by the screen. */
export function dictationWith(parts: DictationParts): Dictation {
  const now = liveValue<Now>(OFF);
  let current: Take | null = null;

  function wordsOf({ heard, partial }: Take): string {
    return [...heard.map((h) => h.text), partial].join(' ').trim();
  }

  async function listen(aircraft: string): Promise<void> {
    const take: Take = { ear: null, heard: [], sound: [], partial: '' };
    current = take;
    const show = () => {
      if (current !== take) return;
      // Words again: what was not understood before them has been said anew.
      const deaf = now.get().state === 'deaf';
      now.patch({ words: wordsOf(take), ...(deaf ? {} : { why: null }) });
    };
    const keep: KeepSound = (chunk) => {
      take.sound.push(chunk);
      return Promise.resolve({ kept: true });
    };
    now.set({ state: 'starting', words: '', why: null });
    try {
      const ear = await parts.openEar({
        ...(await parts.editionFor(aircraft)),
        aircraft,
        claims: true,
        ear: () => parts.settings().ear,
        ...(parts.settings().keepSound ? { keep } : {}),
      });
      // Left before it could listen: it must not begin to now.
      if (current !== take) return;
      take.ear = ear;
      ear.onHeard((heard) => {
        take.heard.push(heard);
        take.partial = '';
        show();
      });
      ear.onPartial((partial) => {
        take.partial = partial;
        show();
      });
      ear.onNotice(({ kind }) => {
        if (current === take && kind === 'lost') now.patch({ why: NOT_UNDERSTOOD });
      });
      ear.onState((state, sentence) => {
        if (current !== take) return;
        if (state === 'trouble') now.set({ state: 'deaf', words: wordsOf(take), why: sentence });
        else if (state !== 'stopped' && state !== 'starting') now.patch({ state: 'listening' });
      });
      await ear.start();
    } catch (error) {
      if (current !== take) return;
      const why = error instanceof Error ? error.message : String(error);
      now.set({ state: 'deaf', words: wordsOf(take), why });
    }
  }

  /** Closes the ear; what was being heard has gone out when it resolves. */
  async function closed(): Promise<Take | null> {
    const take = current;
    await take?.ear?.stop();
    if (current === take) current = null;
    now.patch({ state: 'off', why: null });
    return take;
  }

  return {
    now,
    start(aircraft) {
      const { state } = now.get();
      if (state === 'off') void listen(aircraft);
      else if (state === 'deaf') void closed().then(() => listen(aircraft));
    },
    async done() {
      const take = await closed();
      if (take === null) return { heard: [], sound: [] };
      const { ear, partial } = take;
      // Shown, agreed to by the touch, and never delivered as final: filed, with no confidence claimed.
      const rest =
        ear === null || partial.trim() === ''
          ? []
          : [
              heardOf({
                id: parts.world.id(),
                by: ear.kind,
                text: partial.trim(),
                sentAway: ear.sendsAway,
              }),
            ];
      return { heard: [...take.heard, ...rest], sound: take.sound };
    },
    stop() {
      void closed();
    },
  };
}
