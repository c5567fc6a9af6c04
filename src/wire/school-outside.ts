import { toBase64Url } from '#store/pure';
import type { SchoolOutside } from './school.ts';
import type { BrowserPasskeys } from './school-people.ts';

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
    passkeys: 'PublicKeyCredential' in window ? browserPasskeys : null,
    name: navigator.platform === '' ? 'Desk' : `Desk (${navigator.platform})`,
  };
}

/** Their library is loaded when one is asked for. What a browser says of a refusal is for programmers. */
const browserPasskeys: BrowserPasskeys = {
  async make(optionsJSON) {
    const { startRegistration } = await import('@simplewebauthn/browser');
    try {
      return await startRegistration({ optionsJSON });
    } catch (cause) {
      throw new Error(
        cause instanceof Error && cause.name === 'InvalidStateError'
          ? 'This passkey is in the school already: use another.'
          : 'No passkey was made. Try again, or use another device.',
        { cause },
      );
    }
  },
  async use(optionsJSON) {
    const { startAuthentication } = await import('@simplewebauthn/browser');
    try {
      return await startAuthentication({ optionsJSON });
    } catch (cause) {
      throw new Error('No passkey was given. Try again, or sign in with a phone.', { cause });
    }
  },
};
