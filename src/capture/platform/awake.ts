/** Keeps the screen on. The platform lets go whenever the page is hidden; it is taken again on return. */
export interface Awake {
  /** Resolves to whether the platform grants it now. */
  on(): Promise<boolean>;
  off(): Promise<void>;
}

interface Lock {
  readonly released: boolean;
  release(): Promise<void>;
}

export interface AwakePlatform {
  readonly wakeLock?: { request(type: 'screen'): Promise<Lock> };
  visible(): boolean;
  /** Calls back at each change of visibility; gives the way to end it. */
  onVisibility(take: () => void): () => void;
}

export function stayAwake(platform: AwakePlatform): Awake {
  let wanted = false;
  let lock: Lock | null = null;
  let off: (() => void) | null = null;

  async function take(): Promise<boolean> {
    if (platform.wakeLock === undefined || !platform.visible()) return false;
    if (lock !== null && !lock.released) return true;
    try {
      const taken = await platform.wakeLock.request('screen');
      if (!wanted) {
        await taken.release();
        return false;
      }
      lock = taken;
      return true;
    } catch {
      // Refused with a low battery, for one: the walk goes on with a screen that may darken.
      return false;
    }
  }

  return {
    on() {
      wanted = true;
      off ??= platform.onVisibility(() => {
        if (wanted && platform.visible()) void take();
      });
      return take();
    },
    async off() {
      wanted = false;
      off?.();
      off = null;
      const held = lock;
      lock = null;
      if (held !== null && !held.released) await held.release();
    },
  };
}

export function awakePlatform(page: Document, browser: Navigator): AwakePlatform {
  return {
    ...('wakeLock' in browser ? { wakeLock: browser.wakeLock } : {}),
    visible: () => page.visibilityState === 'visible',
    onVisibility(take) {
      page.addEventListener('visibilitychange', take);
      return () => page.removeEventListener('visibilitychange', take);
    },
  };
}
