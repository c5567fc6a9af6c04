import { z } from 'zod';
import changes from './changes.json';

/** This version, and what it brought. */
export const VERSION = changes[0]?.version ?? '0';

/** A newer version that is on the device and waits to be let in. */
export interface Update {
  /** For the screen: which version, and what changed since this one. */
  readonly sentence: string;
  readonly changes: readonly string[];
  /**
   * Lets it in and loads the page again. Gives false, and does nothing, while
   * a walk is on in any tab: an update never interrupts a walk.
   */
  apply(): Promise<boolean>;
}

/** What is used of the platform; passed in, so that it can be played. */
export interface UpdateParts {
  readonly container: Pick<
    ServiceWorkerContainer,
    'ready' | 'controller' | 'addEventListener' | 'getRegistration'
  >;
  /** true while some tab records, such as `() => store.recording()`. */
  busy(): Promise<boolean>;
  onUpdate(update: Update): void;
  /** The app is kept on this device from now on. Said once, after the first visit. */
  onOffline?(sentence: string): void;
  reload(): void;
  /** Gets the new version's changes.json, or null without a network. */
  fetchChanges(): Promise<unknown>;
}

const Changes = z.array(z.object({ version: z.string(), changes: z.array(z.string()) }));

/** The same in this browser; null where there are no service workers, such as over plain http. */
export function browserUpdates(
  parts: Pick<UpdateParts, 'busy' | 'onUpdate' | 'onOffline'>,
): Promise<void> | null {
  const platform: Partial<Navigator> = navigator;
  if (platform.serviceWorker === undefined) return null;
  return watchForUpdate({
    ...parts,
    container: platform.serviceWorker,
    reload: () => location.reload(),
    async fetchChanges() {
      const answer = await fetch(new URL('changes.json', document.baseURI), { cache: 'no-store' });
      return answer.ok ? ((await answer.json()) as unknown) : null;
    },
  });
}

/**
 * Watches for a newer version. Nothing is asked over the network while a walk
 * is on: the browser looks for a new version when the page is loaded, and what
 * it finds waits.
 */
export async function watchForUpdate(parts: UpdateParts): Promise<void> {
  const { container } = parts;
  const firstVisit = container.controller === null;
  let claimed = !firstVisit;
  container.addEventListener('controllerchange', () => {
    // The first worker takes over a page that it has just been made by.
    if (!claimed) {
      claimed = true;
      return;
    }
    parts.reload();
  });
  const registration = await container.ready;
  if (firstVisit)
    parts.onOffline?.('Talkround is kept on this device. It starts without a network from now on.');

  function tell(waiting: ServiceWorker): void {
    void describe(parts).then(({ sentence, list }) =>
      parts.onUpdate({
        sentence,
        changes: list,
        async apply() {
          if (await parts.busy()) return false;
          waiting.postMessage({ type: 'SKIP_WAITING' });
          return true;
        },
      }),
    );
  }
  if (registration.waiting !== null && container.controller !== null) tell(registration.waiting);
  registration.addEventListener('updatefound', () => {
    const coming = registration.installing;
    coming?.addEventListener('statechange', () => {
      if (coming.state === 'installed' && container.controller !== null) tell(coming);
    });
  });
}

/** What changed since this version, as far as the new one says. */
async function describe(parts: UpdateParts): Promise<{ sentence: string; list: string[] }> {
  const told = Changes.safeParse(await fetchedQuietly(parts));
  const newer: z.infer<typeof Changes> = [];
  for (const entry of told.success ? told.data : []) {
    if (entry.version === VERSION) break;
    newer.push(entry);
  }
  const list = newer.flatMap((entry) => entry.changes);
  const which = newer[0] === undefined ? 'A newer Talkround' : `Talkround ${newer[0].version}`;
  const what = list.length === 0 ? '' : ` What changed: ${list.join(' ')}`;
  return {
    sentence: `${which} is ready and comes in when you say so, or at the next start.${what}`,
    list,
  };
}

/** An update without a network to read about it is still an update. Nothing is asked while a walk is on. */
async function fetchedQuietly(parts: UpdateParts): Promise<unknown> {
  try {
    return (await parts.busy()) ? null : await parts.fetchChanges();
  } catch {
    return null;
  }
}
