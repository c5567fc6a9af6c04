import { installLocal, localState, type SpeechPlatform, type Wait } from '#capture';
import type { LocalEar, LocalEarView } from '#screens';
import type { Store } from '#store';
import { liveValue } from './live-value.ts';

const KEY = 'browser-local';
/** The offer was declined: it is not made again unasked. */
const DECLINED = 'declined';

export interface LocalEarParts {
  readonly platform: SpeechPlatform;
  readonly store: Pick<Store, 'setting' | 'setSetting'>;
  readonly wait?: Wait;
}

/**
 * The browser's own recogniser on this device: whether it is there, and getting
 * it. It is offered once; nothing is installed without a yes.
 */
export function localEar({ platform, store, wait }: LocalEarParts): LocalEar {
  const now = liveValue<LocalEarView>({ state: 'none' });

  async function look(): Promise<void> {
    const state = await localState(platform);
    // Asked while it is being looked at, the answer of then is worth nothing.
    if (now.get().state === 'coming') return;
    if (state === 'offered') {
      const declined = (await store.setting(KEY)) === DECLINED;
      now.set({ state: 'offered', declined });
    } else now.set({ state });
  }

  const looked = look().catch(() => now.set({ state: 'none' }));

  return {
    now,
    async install() {
      await looked;
      if (now.get().state !== 'offered') return;
      now.set({ state: 'coming' });
      const done = await installLocal(platform, wait === undefined ? {} : { wait });
      if (done.ok) now.set({ state: 'here' });
      // A yes that came to nothing is no refusal: it is offered again.
      else now.set({ state: 'offered', declined: false, why: done.why });
    },
    async decline() {
      await looked;
      if (now.get().state !== 'offered') return;
      // Written before it goes: a page that is left at once must not ask again.
      await store.setSetting(KEY, DECLINED);
      now.set({ state: 'offered', declined: true });
    },
  };
}
