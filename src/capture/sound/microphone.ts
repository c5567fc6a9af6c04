import type { Off, Trouble } from '../ear.ts';

/*
 * The microphone itself: asking for it, losing it, getting it back. Described by
 * what is used of the platform, so that a test can stand in for it.
 */

export interface Track {
  readonly muted: boolean;
  readonly readyState: string;
  addEventListener(type: 'ended' | 'mute' | 'unmute', take: () => void): void;
  stop(): void;
}

export interface Devices<Stream> {
  getUserMedia(constraints: { audio: Record<string, boolean> }): Promise<Stream>;
  addEventListener?(type: 'devicechange', take: () => void): void;
  removeEventListener?(type: 'devicechange', take: () => void): void;
}

export interface StreamLike {
  getAudioTracks(): readonly Track[];
}

export type Opened<Stream> =
  | { readonly ok: true; readonly stream: Stream }
  | { readonly ok: false; readonly trouble: Trouble; readonly sentence: string };

/**
 * - open: a stream is there (also a new one after a loss)
 * - muted: the platform passes silence, as during a call
 * - lost: unplugged or withdrawn
 */
export type MicrophoneState = 'open' | 'muted' | 'lost';

export interface Microphone<Stream> {
  open(): Promise<Opened<Stream>>;
  stream(): Stream | null;
  /** With one sentence; for `open` after a loss the new stream is in `stream()`. */
  onChange(take: (state: MicrophoneState, sentence: string) => void): Off;
  close(): void;
}

/** What each refusal of getUserMedia means (W3C Media Capture and Streams, error names). */
const REFUSALS: Readonly<Record<string, { trouble: Trouble; sentence: string }>> = {
  NotAllowedError: {
    trouble: 'permission',
    sentence:
      'The microphone is not allowed. Allow it for this page in the browser, then start again.',
  },
  SecurityError: {
    trouble: 'permission',
    sentence: 'The browser allows no microphone on this page. Open it over HTTPS.',
  },
  NotFoundError: {
    trouble: 'microphone',
    sentence: 'There is no microphone. Plug one in; listening begins by itself.',
  },
  NotReadableError: {
    trouble: 'microphone',
    sentence: 'The microphone is busy. Close the app that uses it, or end the call.',
  },
  AbortError: {
    trouble: 'microphone',
    sentence: 'The microphone could not be opened. Unplug it and plug it in again.',
  },
};

export function microphone<Stream extends StreamLike>(
  devices: Devices<Stream> | undefined,
  settings: Record<string, boolean> = {
    echoCancellation: true,
    noiseSuppression: false,
    autoGainControl: true,
  },
  /** Calls back when the permission changes, where the platform tells: given back, it is taken again. */
  onPermission?: (take: () => void) => Off,
): Microphone<Stream> {
  const takers = new Set<(state: MicrophoneState, sentence: string) => void>();
  let current: Stream | null = null;
  let wanted = false;
  let trying = false;

  function tell(state: MicrophoneState, sentence: string): void {
    for (const take of [...takers]) take(state, sentence);
  }

  async function take(): Promise<Opened<Stream>> {
    if (devices === undefined) {
      return {
        ok: false,
        trouble: 'permission',
        sentence: 'This page cannot use a microphone. Open it over HTTPS, or type the words.',
      };
    }
    try {
      const stream = await devices.getUserMedia({ audio: settings });
      const track = stream.getAudioTracks()[0];
      if (track === undefined || track.readyState === 'ended') {
        return { ok: false, ...REFUSALS['AbortError'] } as Opened<Stream>;
      }
      current = stream;
      track.addEventListener('ended', () => lost(stream));
      track.addEventListener('mute', () => {
        if (current === stream) {
          tell('muted', 'The microphone is silent: a call, or another app, has it.');
        }
      });
      track.addEventListener('unmute', () => {
        if (current === stream) tell('open', 'The microphone is back.');
      });
      return { ok: true, stream };
    } catch (error) {
      const name = error instanceof Error ? error.name : '';
      const known = REFUSALS[name] ?? REFUSALS['AbortError'];
      return {
        ok: false,
        trouble: known?.trouble ?? 'microphone',
        sentence: known?.sentence ?? 'The microphone could not be opened.',
      };
    }
  }

  function lost(stream: Stream): void {
    if (current !== stream) return;
    current = null;
    tell('lost', 'The microphone is gone: unplugged or withdrawn. Plug it in or allow it again.');
    void again();
  }

  /** After a loss, and whenever a device comes or goes. */
  async function again(): Promise<void> {
    if (!wanted || current !== null || trying) return;
    trying = true;
    const opened = await take();
    trying = false;
    if (!opened.ok) return;
    // Closed while the platform was asked.
    if (wanted) tell('open', 'The microphone is back.');
    else drop();
  }

  function drop(): void {
    const stream = current;
    current = null;
    for (const track of stream?.getAudioTracks() ?? []) track.stop();
  }

  const onDevices = () => void again();
  let offPermission: Off | null = null;
  return {
    async open() {
      if (current !== null) return { ok: true, stream: current };
      if (!wanted) devices?.addEventListener?.('devicechange', onDevices);
      offPermission ??= onPermission?.(onDevices) ?? null;
      wanted = true;
      return take();
    },
    stream: () => current,
    onChange(taker) {
      takers.add(taker);
      return () => void takers.delete(taker);
    },
    close() {
      wanted = false;
      devices?.removeEventListener?.('devicechange', onDevices);
      offPermission?.();
      offPermission = null;
      drop();
    },
  };
}

/** Changes of the microphone's permission in this browser, for `microphone`. */
export function permissionChanges(browser: Navigator): (take: () => void) => Off {
  return (take) => {
    let off: Off = () => undefined;
    let over = false;
    browser.permissions
      .query({ name: 'microphone' })
      .then((status) => {
        if (over) return;
        status.addEventListener('change', take);
        off = () => status.removeEventListener('change', take);
      })
      .catch(() => {
        // This browser does not tell; the pilot starts again by hand.
      });
    return () => {
      over = true;
      off();
    };
  };
}
