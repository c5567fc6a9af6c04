import { realWait, type Wait } from '../scripted.ts';
import type { SpeechPlatform } from './api.ts';

/**
 * The platform's own recogniser on this device, as far as getting it goes.
 *
 * - here: it can be used now
 * - offered: it could be installed
 * - coming: the platform is at it, asked by us or by somebody else
 * - none: there is none for this language, or the platform does not tell
 */
export type LocalState = 'here' | 'offered' | 'coming' | 'none';

const STATES: Readonly<Record<string, LocalState>> = {
  available: 'here',
  downloadable: 'offered',
  downloading: 'coming',
  unavailable: 'none',
};

/**
 * Asks the platform; installs nothing. What is answered in other words, or with
 * an error, counts as none: an offer that cannot be kept is worse than none.
 */
export async function localState(platform: SpeechPlatform, lang = 'en-US'): Promise<LocalState> {
  const { api } = platform;
  if (api?.available === undefined || !('processLocally' in api.prototype)) return 'none';
  try {
    const state = await api.available({ langs: [lang], processLocally: true });
    // Offered only where it can be asked for.
    const known = Object.hasOwn(STATES, state) ? (STATES[state] ?? 'none') : 'none';
    return known === 'offered' && api.install === undefined ? 'none' : known;
  } catch {
    return 'none';
  }
}

/**
 * Seconds after which an installation that the platform says nothing of is given
 * up. Judged: it is large, and its size is not told; a platform that was cut off
 * from the network may never answer. Shorter: a slow network is called a failure
 * though it goes on, and is found out at the next start. Longer: the screen says
 * "installing" to somebody who waits for nothing.
 */
export const INSTALL_PATIENCE = 600;

export type Installed = { readonly ok: true } | { readonly ok: false; readonly why: string };

/**
 * Has the platform install its recogniser, and looks whether it is there: a yes
 * of the platform alone is not believed. Never rejects.
 */
export async function installLocal(
  platform: SpeechPlatform,
  { lang = 'en-US', wait = realWait }: { lang?: string; wait?: Wait } = {},
): Promise<Installed> {
  const { api } = platform;
  if (api?.install === undefined)
    return { ok: false, why: 'This browser installs no recogniser on this device.' };
  let cancel: () => void = () => undefined;
  const late = new Promise<'late'>((done) => (cancel = wait(INSTALL_PATIENCE, () => done('late'))));
  try {
    const done = await Promise.race([api.install({ langs: [lang] }), late]);
    if (done === 'late')
      return { ok: false, why: 'The browser did not say what became of it; it may still come.' };
    if (done && (await localState(platform, lang)) === 'here') return { ok: true };
    return {
      ok: false,
      why: 'The browser could not install its recogniser; it needs the network.',
    };
  } catch {
    return {
      ok: false,
      why: 'The browser could not install its recogniser; it needs the network.',
    };
  } finally {
    cancel();
  }
}
