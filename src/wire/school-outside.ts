import { toBase64Url } from '#store/pure';
import type { SchoolOutside } from './school.ts';

/** The browser, as a school needs it. */
export function schoolOutside(): SchoolOutside {
  return {
    page: document.baseURI.replace(/#.*$/, ''),
    fetch: (input, init) => fetch(input, init),
    nonce: () => toBase64Url(crypto.getRandomValues(new Uint8Array(16))),
    wait(ms, then) {
      const timer = setTimeout(then, ms);
      return () => clearTimeout(timer);
    },
    chance: () => Math.random(),
    onBack(run) {
      window.addEventListener('online', run);
      document.addEventListener('visibilitychange', () => {
        if (document.visibilityState === 'visible') run();
      });
    },
    async draw(text) {
      const { toString } = await import('qrcode');
      return `data:image/svg+xml,${encodeURIComponent(await toString(text, { type: 'svg' }))}`;
    },
    name: navigator.platform === '' ? 'Desk' : `Desk (${navigator.platform})`,
  };
}
