import { writeWav } from '../signal/wav.ts';

/**
 * The headset's button. It reaches the page through Media Session, and only
 * while an <audio> element of more than 5 s is playing, so one plays silence,
 * made here.
 */
export interface HeadsetActions {
  /** The button pressed once. */
  readonly toggle: () => void;
  /** Pressed twice, where the headset has it. */
  readonly next: () => void;
}

export interface Headset {
  /** After a touch. Resolves to whether the button can reach us. */
  on(actions: HeadsetActions): Promise<boolean>;
  /** What the headset's own display and the lock screen show. */
  state(listening: boolean, title: string): void;
  off(): void;
}

/** As far as an audio element is used. */
export interface AudioLike {
  src: string;
  loop: boolean;
  volume: number;
  play(): Promise<void>;
  pause(): void;
}

export interface HeadsetPlatform {
  readonly session?: {
    setActionHandler(action: MediaSessionAction, handler: (() => void) | null): void;
    playbackState: MediaSessionPlaybackState;
    metadata: MediaMetadata | null;
  };
  readonly metadata?: (title: string) => MediaMetadata;
  audio(): AudioLike;
  /** Makes an address of bytes, and gives it up. */
  url(bytes: Uint8Array<ArrayBuffer>, mime: string): string;
  revoke(url: string): void;
}

/** Seconds of silence in the loop: Media Session wants more than 5. */
export const SILENCE = 8;
/** Samples a second: silence needs no more. */
const RATE = 8000;
const ACTIONS: readonly MediaSessionAction[] = ['play', 'pause', 'stop', 'nexttrack'];

export function headset(platform: HeadsetPlatform): Headset {
  let audio: AudioLike | null = null;
  let url: string | null = null;

  function handle(action: MediaSessionAction, handler: (() => void) | null): void {
    try {
      platform.session?.setActionHandler(action, handler);
    } catch {
      // An action this platform does not know.
    }
  }

  return {
    async on(actions) {
      if (platform.session === undefined) return false;
      url ??= platform.url(writeWav(new Float32Array(SILENCE * RATE), RATE), 'audio/wav');
      audio ??= platform.audio();
      audio.src = url;
      audio.loop = true;
      const toggle = () => {
        actions.toggle();
        // The platform pauses the element with the button; paused it would hear no more of it.
        void audio?.play().catch(() => undefined);
      };
      handle('play', toggle);
      handle('pause', toggle);
      handle('stop', toggle);
      handle('nexttrack', actions.next);
      try {
        await audio.play();
        return true;
      } catch {
        return false;
      }
    },
    state(listening, title) {
      if (platform.session === undefined) return;
      platform.session.playbackState = listening ? 'playing' : 'paused';
      if (platform.metadata !== undefined) platform.session.metadata = platform.metadata(title);
    },
    off() {
      for (const action of ACTIONS) handle(action, null);
      audio?.pause();
      audio = null;
      if (url !== null) platform.revoke(url);
      url = null;
    },
  };
}

export function headsetPlatform(scope: typeof globalThis): HeadsetPlatform {
  const { navigator } = scope;
  return {
    ...('mediaSession' in navigator ? { session: navigator.mediaSession } : {}),
    ...('MediaMetadata' in scope
      ? { metadata: (title: string) => new scope.MediaMetadata({ title }) }
      : {}),
    audio: () => new scope.Audio(),
    url: (bytes, type) => scope.URL.createObjectURL(new scope.Blob([bytes], { type })),
    revoke: (url) => scope.URL.revokeObjectURL(url),
  };
}
