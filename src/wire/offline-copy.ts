import type { Uncopied } from '#screens';

/** Page of the server beside the app that says how a phone learns to trust it; src/serve/phone.mjs makes it. */
const PHONE_PAGE = 'phone/';

/** What is used of the platform; passed in, so that it can be played. */
export interface OfflineCopyParts {
  readonly container: Pick<ServiceWorkerContainer, 'controller' | 'register'>;
  /** Address of a page beside the app, or null when there is none. */
  beside(path: string): Promise<string | null>;
}

/**
 * Why the app is not kept on this device; null when it is, or will be. A browser
 * keeps nothing from a server whose certificate it does not trust, also when the
 * person let it open the page, and it tells only the program.
 */
export async function whyUncopied(parts: OfflineCopyParts): Promise<Uncopied | null> {
  if (parts.container.controller !== null) return null;
  try {
    await parts.container.register('./sw.js', { scope: './' });
    return null;
  } catch (error) {
    const untrusted = error instanceof DOMException && error.name === 'SecurityError';
    const why = untrusted
      ? 'its browser does not trust the certificate of this server'
      : 'its browser refused to keep it';
    return {
      sentence: `Talkround is not kept on this device: ${why}. It works now, but without this network it will not open here.`,
      help: untrusted ? await parts.beside(PHONE_PAGE).catch(() => null) : null,
    };
  }
}

/** The same in this browser. */
export function uncopiedHere(): Promise<Uncopied | null> {
  const platform: Partial<Navigator> = navigator;
  if (platform.serviceWorker === undefined)
    return Promise.resolve({
      sentence:
        'This browser keeps no page for use without a network. Talkround works now, but without this network it will not open here.',
      help: null,
    });
  return whyUncopied({
    container: platform.serviceWorker,
    async beside(path) {
      const { href } = new URL(path, document.baseURI);
      const answer = await fetch(href, { method: 'HEAD' });
      const html = answer.headers.get('content-type')?.startsWith('text/html') === true;
      return answer.ok && html ? href : null;
    },
  });
}
