import type { Ear } from '#capture';
import type { Dictation } from '#screens';
import { liveValue } from './live-value.ts';

type Now = ReturnType<Dictation['now']['get']>;

const OFF: Now = { state: 'off', words: '', why: null };

/** A squawk dictated with no walk begun: words as they come, filed by the screen. */
export function dictationWith(openEar: (aircraft: string) => Promise<Ear>): Dictation {
  const now = liveValue<Now>(OFF);
  let ear: Ear | null = null;
  let said = '';

  async function listen(aircraft: string): Promise<void> {
    said = '';
    now.set({ state: 'starting', words: '', why: null });
    try {
      const opened = await openEar(aircraft);
      ear = opened;
      opened.onHeard((heard) => {
        said = `${said} ${heard.text}`.trim();
        now.patch({ words: said });
      });
      opened.onPartial((partial) => now.patch({ words: `${said} ${partial}`.trim() }));
      opened.onState((state, sentence) => {
        if (ear !== opened) return;
        if (state === 'trouble') now.set({ state: 'deaf', words: said, why: sentence });
        else if (state !== 'stopped' && state !== 'starting') now.patch({ state: 'listening' });
      });
      await opened.start();
    } catch (error) {
      const why = error instanceof Error ? error.message : String(error);
      now.set({ state: 'deaf', words: said, why });
    }
  }

  return {
    now,
    start(aircraft) {
      if (now.get().state === 'off' || now.get().state === 'deaf') void listen(aircraft);
    },
    stop() {
      const open = ear;
      ear = null;
      now.patch({ state: 'off', why: null });
      void open?.stop();
    },
  };
}
