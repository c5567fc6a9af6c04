import type { SoundPlace } from '#shared/heard';
import type { World } from '#shared/log';

/*
 * Keeps the sound of a walk in slices. A slice is on disk within 2 s: it is cut
 * every SLICE seconds and handed to `keep` at once, one after the other.
 */

/** Seconds of a slice. With the time to write it, under the 2 s that may be lost in a crash. */
export const SLICE = 1;
/** Bits a second of speech in Opus: 11 MB an hour. */
const BITS = 24_000;

/** One slice, as the store keeps it. Times in seconds from the recording's begin. */
export interface RecordedChunk {
  readonly recording: string;
  readonly chunk: number;
  readonly place: SoundPlace;
  readonly mime: string;
  readonly data: ArrayBuffer;
}

export type Keep = (
  chunk: RecordedChunk,
) => Promise<{ readonly kept: true } | { readonly kept: false; readonly why: string }>;

export interface RecorderParts {
  readonly world: World;
  /** Seconds since the walk began. */
  seconds(): number;
  readonly keep: Keep;
  /** From here on the words alone are kept; told once for each recording. */
  readonly onMissing: (why: string) => void;
  /** Makes the platform's recorder; null where there is none. */
  readonly make: ((stream: unknown, mime: string, bits: number) => SliceRecorder) | null;
  readonly supports: (mime: string) => boolean;
}

/** MediaRecorder as far as it is used. */
export interface SliceRecorder {
  start(sliceMilliseconds: number): void;
  stop(): void;
  addEventListener(type: 'start' | 'stop' | 'error', take: () => void): void;
  addEventListener(
    type: 'dataavailable',
    take: (event: { data: { size: number; arrayBuffer(): Promise<ArrayBuffer> } }) => void,
  ): void;
}

export interface Recorder {
  /** Begins a recording of this stream; ends the one before it. */
  start(stream: unknown): void;
  /** Resolves when the last slice is kept or has failed. */
  stop(): Promise<void>;
  /** Where a stretch of the walk lies in what was recorded; null where nothing was. */
  place(from: number, to: number): SoundPlace | null;
  readonly recording: boolean;
}

/** Kinds of file, best first: Opus where there is one, what Safari writes otherwise. */
const KINDS = ['audio/webm;codecs=opus', 'audio/ogg;codecs=opus', 'audio/mp4', 'audio/webm'];

interface Stretch {
  readonly id: string;
  readonly begun: number;
  ended: number | null;
}

export function recorder(parts: RecorderParts): Recorder {
  const stretches: Stretch[] = [];
  let current: { readonly stretch: Stretch; end(): Promise<void> } | null = null;

  function begin(stream: unknown): void {
    const mime = KINDS.find((kind) => parts.supports(kind));
    if (parts.make === null || mime === undefined) {
      parts.onMissing('This browser keeps no sound; the words alone are kept.');
      return;
    }
    let made: SliceRecorder;
    try {
      made = parts.make(stream, mime, BITS);
      current = run(made, mime);
      made.start(SLICE * 1000);
    } catch {
      current = null;
      parts.onMissing('The sound could not be recorded; the words alone are kept.');
    }
  }

  function run(made: SliceRecorder, mime: string): { stretch: Stretch; end(): Promise<void> } {
    const stretch: Stretch = { id: parts.world.id(), begun: parts.seconds(), ended: null };
    stretches.push(stretch);
    let number = 0;
    let at = 0;
    let dead = false;
    let queue: Promise<void> = Promise.resolve();
    let resolveStopped: () => void = () => undefined;
    const stopped = new Promise<void>((resolve) => (resolveStopped = resolve));

    function missing(why: string): void {
      if (dead) return;
      dead = true;
      stretch.ended = stretch.begun + at;
      parts.onMissing(why);
      try {
        made.stop();
      } catch {
        // It has stopped already.
      }
    }

    made.addEventListener('dataavailable', ({ data }) => {
      if (data.size === 0) return;
      const to = parts.seconds() - stretch.begun;
      queue = queue.then(async () => {
        if (dead) return;
        const from = at;
        try {
          const kept = await parts.keep({
            recording: stretch.id,
            chunk: number,
            place: { recording: stretch.id, from, to },
            mime,
            data: await data.arrayBuffer(),
          });
          if (!kept.kept) {
            missing(kept.why);
            return;
          }
          at = to;
          number += 1;
        } catch {
          missing('The sound could not be written; the words alone are kept from here on.');
        }
      });
    });
    made.addEventListener('error', () =>
      missing('The recording broke off; the words alone are kept from here on.'),
    );
    made.addEventListener('stop', () => {
      stretch.ended ??= parts.seconds();
      resolveStopped();
    });

    return {
      stretch,
      async end() {
        try {
          made.stop();
        } catch {
          resolveStopped();
        }
        await stopped;
        await queue;
      },
    };
  }

  return {
    start(stream) {
      void current?.end();
      current = null;
      begin(stream);
    },
    async stop() {
      const running = current;
      current = null;
      await running?.end();
    },
    place(from, to) {
      // The recording that covers most of the stretch; none is better than a wrong one.
      let best: SoundPlace | null = null;
      for (const { id, begun, ended } of stretches) {
        const a = Math.max(from, begun);
        const b = Math.min(to, ended ?? Infinity);
        if (b > a && (best === null || b - a > best.to - best.from)) {
          best = { recording: id, from: a - begun, to: b - begun };
        }
      }
      return best;
    },
    get recording() {
      return current !== null && current.stretch.ended === null;
    },
  };
}

/** A recording put together for replay. */
export interface Joined {
  readonly mime: string;
  readonly data: Uint8Array<ArrayBuffer>;
  /** Slices that are not there. */
  readonly missing: readonly number[];
  /** One sentence when it cannot be played, or not whole. */
  readonly warning: string | null;
}

/**
 * Joins slices in order. A slice alone is not playable: only the first has the
 * header, so everything behind a gap is left out rather than played at the
 * wrong place.
 */
export function joinSound(
  chunks: readonly Pick<RecordedChunk, 'chunk' | 'mime' | 'data'>[],
): Joined | null {
  const sorted = [...chunks].sort((a, b) => a.chunk - b.chunk);
  const unique = sorted.filter((c, i) => i === 0 || c.chunk !== sorted[i - 1]?.chunk);
  const last = unique.at(-1);
  if (last === undefined) return null;
  const missing: number[] = [];
  const there = new Set(unique.map((c) => c.chunk));
  for (let n = 0; n <= last.chunk; n += 1) if (!there.has(n)) missing.push(n);
  const upTo = missing[0] ?? Infinity;
  const whole = unique.filter((c) => c.chunk < upTo);
  const length = whole.reduce((sum, c) => sum + c.data.byteLength, 0);
  const data = new Uint8Array(length);
  let at = 0;
  for (const c of whole) {
    data.set(new Uint8Array(c.data), at);
    at += c.data.byteLength;
  }
  return {
    mime: last.mime,
    data,
    missing,
    warning:
      whole.length === 0
        ? 'The begin of this recording is missing; it cannot be played.'
        : missing.length > 0
          ? `A slice of this recording is missing; it plays up to there.`
          : null,
  };
}

/** MediaRecorder of this window, for `RecorderParts`. */
export function platformRecorder(
  scope: { MediaRecorder?: typeof MediaRecorder } = globalThis,
): Pick<RecorderParts, 'make' | 'supports'> {
  const Recorder = scope.MediaRecorder;
  if (Recorder === undefined) return { make: null, supports: () => false };
  return {
    make: (stream, mimeType, audioBitsPerSecond) =>
      new Recorder(stream as MediaStream, { mimeType, audioBitsPerSecond }),
    supports: (mime) => Recorder.isTypeSupported(mime),
  };
}
