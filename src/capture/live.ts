import type { SoundPlace } from '#shared/heard';
import type { Scene } from '#shared/scene';
import { FIRST_SCENE } from '#shared/scene';
import type { SpeechPlatform } from './browser/api.ts';
import { browserEar, localAvailability } from './browser/browser.ts';
import { chooseEar, PRIVACY, type Allowed, type Source } from './choose.ts';
import { listeners, type Ear, type EarParts, type Off } from './ear.ts';
import type { Awake } from './platform/awake.ts';
import { watchInterruptions, type Interruption } from './platform/interruption.ts';
import { realWait, type Wait } from './scripted.ts';
import { pairEar } from './pair.ts';
import type { Microphone, MicrophoneState, StreamLike } from './sound/microphone.ts';
import { recorder, type Keep, type Recorder, type RecorderParts } from './sound/recorder.ts';
import { switchboard, type Switchboard } from './switchboard.ts';

export interface LiveParts<Stream extends StreamLike> extends EarParts {
  /** The one setting, as it stands now. */
  allowed(): Allowed;
  readonly speech: SpeechPlatform;
  readonly microphone: Microphone<Stream>;
  /** Our own recogniser: whether it is complete here, and an ear on this microphone. */
  readonly embedded: {
    probe: Source['probe'];
    make(microphone: Microphone<Stream>): Ear;
  };
  readonly phrases?: (scene: Scene) => readonly { phrase: string; boost: number }[];
  /** Keeps a slice of sound; null: the pilot wants no sound kept. */
  readonly keep: Keep | null;
  readonly recording: Pick<RecorderParts, 'make' | 'supports'>;
  readonly page: { visible(): boolean; onVisibility(take: () => void): () => void };
  readonly awake?: Awake;
  /**
   * The right to listen, of which there is one on a device: gives the way to
   * return it, or null when another page has it.
   */
  readonly claim?: () => Promise<Off | null>;
  /** Whether the pilot has agreed to sound leaving the device. */
  agreed(): boolean;
  /** Shows the sentence and waits for yes or no; asked once, before first use. */
  agree(sentence: string): Promise<boolean>;
  /** Another source listens now: for the log. */
  readonly onChanged?: (listening: string, why: string) => void;
  /** The walk was interrupted (`over` false) and may go on (`over` true). */
  readonly onInterruption?: (why: Interruption, sentence: string, over: boolean) => void;
  readonly wait?: Wait;
}

export interface LiveEar extends Ear {
  /** Changes to what the setting now allows, in mid-walk. */
  reconsider(): Promise<void>;
  /** Where a stretch of the walk is kept. */
  place(from: number, to: number): SoundPlace | null;
  /** Which one listens and whether sound leaves the device. */
  readonly sentence: string;
}

/** Seconds within which a level must have come for sound to be flowing. */
const FLOWING = 1;

/**
 * The microphone as one ear: the source is probed and picked, the pilot is
 * asked before sound leaves the device, the sound is kept where the platform
 * can do both, and what goes wrong is said and mended where that is possible.
 */
export function liveEar<Stream extends StreamLike>(parts: LiveParts<Stream>): LiveEar {
  const out = listeners();
  const wait = parts.wait ?? realWait;
  const sources = sourcesOf(parts);
  let board: Switchboard | null = null;
  let wanted = false;
  let held = false;
  let scene = FIRST_SCENE;
  let sentence = '';
  let declined = false;
  let lastLevel = -Infinity;
  let heardOn: Stream | null = null;
  let beginning = false;
  let offs: Off[] = [];
  let claimed: Off | null = null;

  const kept: Recorder = recorder({
    world: parts.world,
    seconds: () => parts.seconds(),
    keep: parts.keep ?? (() => Promise.resolve({ kept: false, why: 'No sound is kept.' })),
    onMissing: (why) => out.notice({ kind: 'sound-missing', sentence: why }),
    ...parts.recording,
  });

  /** Android's recogniser and a microphone of ours cannot both listen. */
  function mayHoldMicrophone(source: Source): boolean {
    return source.key === 'embedded' || !parts.speech.android;
  }

  function allowed(): Allowed {
    return declined && !parts.agreed() ? 'this-device' : parts.allowed();
  }

  async function choose(): Promise<Source | null> {
    const choice = await chooseEar(allowed(), sources, parts.agreed());
    if (!choice.ok) {
      out.state('trouble', choice.sentence, 'service');
      return null;
    }
    if (choice.privacy !== null && !(await parts.agree(PRIVACY))) {
      declined = true;
      return choose();
    }
    sentence = choice.sentence;
    return choice.source;
  }

  /** Opens the microphone and the recording, as far as this source lets us. */
  async function openSound(source: Source): Promise<boolean> {
    if (!mayHoldMicrophone(source)) {
      await kept.stop();
      parts.microphone.close();
      missingWith(source);
      return true;
    }
    if (source.key !== 'embedded' && parts.keep === null) return true;
    const opened = await parts.microphone.open();
    if (!opened.ok) {
      if (source.key === 'embedded') {
        out.state('trouble', opened.sentence, opened.trouble);
        return false;
      }
      // The browser's recogniser has a microphone of its own; only the recording fails.
      out.notice({ kind: 'sound-missing', sentence: opened.sentence });
      return true;
    }
    heardOn = opened.stream;
    if (parts.keep !== null && !kept.recording) kept.start(opened.stream);
    return true;
  }

  function missingWith(source: Source): void {
    if (parts.keep === null) return;
    out.notice({
      kind: 'sound-missing',
      sentence: `${source.name} and a recording cannot both have the microphone on this device; the words alone are kept.`,
    });
  }

  function connect(to: Switchboard): void {
    offs.push(
      to.onHeard((heard) => {
        const { from, to: until } = heard;
        const sound =
          heard.sound ?? (from === null || until === null ? null : kept.place(from, until));
        out.heard({ ...heard, sound });
      }),
      to.onPartial(out.partial),
      to.onState((state, words, trouble) => {
        // Closed for a moment to be opened again is nobody's business; closed for good is said below.
        if (state !== 'stopped') out.state(state, words, trouble);
      }),
      to.onLevel((level) => {
        lastLevel = parts.world.steady();
        out.level(level);
      }),
      to.onLoading(out.loading),
      to.onNotice(out.notice),
      watchInterruptions({
        ...parts.page,
        onMicrophone: (take) => parts.microphone.onChange(take),
        flowing: () => parts.world.steady() - lastLevel < FLOWING,
        wait,
        onBegin: (why, words) => {
          if (why === 'hidden') out.state('trouble', words, 'hidden');
          parts.onInterruption?.(why, words, false);
        },
        onEnd: (why, words) => {
          if (why === 'hidden') void restart();
          parts.onInterruption?.(why, words, true);
        },
      }),
    );
  }

  function onMicrophone(state: MicrophoneState, words: string): void {
    if (state === 'open') {
      void regained();
      return;
    }
    if (state === 'lost') void kept.stop();
    if (needsOurs()) out.state('trouble', words, 'microphone');
  }

  function needsOurs(): boolean {
    return board?.source.key === 'embedded';
  }

  /** Ours listens, by itself or beside the browser's, or would if it had a microphone. */
  function usesOurs(): boolean {
    return needsOurs() || (board?.source.key === 'browser-local' && !parts.speech.android);
  }

  /** The microphone is back: a new recording, and a recogniser on the new stream. */
  async function regained(): Promise<void> {
    const stream = parts.microphone.stream();
    if (!wanted || stream === null) return;
    if (board === null) {
      await begin();
      return;
    }
    if (stream === heardOn) {
      // It was only silent for a while.
      out.state(held ? 'held' : 'listening', 'The microphone is back.');
      return;
    }
    heardOn = stream;
    if (parts.keep !== null && !kept.recording) kept.start(stream);
    if (usesOurs()) await restart();
  }

  /** Closed and opened again without a reload; what was being heard goes out first. */
  async function restart(): Promise<void> {
    if (!wanted || board === null) return;
    await board.stop();
    if (!wanted) return;
    await board.start();
    if (held) board.pause();
  }

  /** Also after a microphone that was not there has come. */
  async function begin(): Promise<void> {
    if (beginning) return;
    beginning = true;
    try {
      out.state('starting', 'Looking for what can listen here.');
      if (parts.claim !== undefined && claimed === null) {
        claimed = await parts.claim();
        if (claimed === null) {
          out.state(
            'trouble',
            'Another tab of Talkround is listening. Close it there, then start again here.',
            'microphone',
          );
          return;
        }
      }
      const source = await choose();
      if (source === null || !wanted || !(await openSound(source))) return;
      board = switchboard({
        world: parts.world,
        seconds: () => parts.seconds(),
        first: source,
        sources,
        allowed,
        together: !parts.speech.android,
        onChanged: (next, why) => {
          sentence = why;
          void openSound(next);
          parts.onChanged?.(next.key, why);
        },
      });
      connect(board);
      board.expect(scene);
      void parts.awake?.on();
      await board.start();
    } finally {
      beginning = false;
    }
  }

  return {
    get kind() {
      return board?.kind ?? 'embedded';
    },
    get name() {
      return board?.name ?? 'The microphone';
    },
    get sendsAway() {
      return board?.sendsAway ?? false;
    },
    get beside() {
      return board?.beside ?? null;
    },
    get sentence() {
      return sentence;
    },
    place: (from, to) => kept.place(from, to),
    async start() {
      if (beginning) return;
      if (board !== null) {
        // Started by hand after a loss that the platform told nobody about.
        if (needsOurs() && parts.microphone.stream() === null) {
          const opened = await parts.microphone.open();
          if (opened.ok) await regained();
          else out.state('trouble', opened.sentence, opened.trouble);
        } else if (out.current === 'trouble') await restart();
        return;
      }
      wanted = true;
      held = false;
      if (offs.length === 0) offs.push(parts.microphone.onChange(onMicrophone));
      await begin();
    },
    async stop() {
      wanted = false;
      await board?.stop();
      await kept.stop();
      parts.microphone.close();
      for (const off of offs) off();
      offs = [];
      claimed?.();
      claimed = null;
      board = null;
      void parts.awake?.off();
      out.state('stopped', 'Listening is closed.');
    },
    pause() {
      held = true;
      board?.pause();
    },
    resume() {
      held = false;
      board?.resume();
    },
    expect(to) {
      scene = to;
      board?.expect(to);
    },
    async reconsider() {
      declined = false;
      if (!wanted || board === null) return;
      const source = await choose();
      if (source !== null) await board.use(source, 'The setting was changed.');
    },
    ...out.on,
  };
}

function sourcesOf<Stream extends StreamLike>(parts: LiveParts<Stream>): readonly Source[] {
  const { speech, microphone, phrases, wait } = parts;
  const browser = (local: boolean) => () =>
    browserEar({
      world: parts.world,
      seconds: () => parts.seconds(),
      platform: speech,
      local,
      ...(phrases === undefined ? {} : { phrases }),
      ...(wait === undefined ? {} : { wait }),
    });
  /** Ours beside the browser's, on a microphone of its own. */
  async function beside(): Promise<Ear | string> {
    if (speech.android)
      return "The browser's recogniser and Talkround's own cannot both have the microphone on this device.";
    const able = await parts.embedded.probe();
    if (!able.able) return able.why;
    const opened = await microphone.open();
    return opened.ok ? parts.embedded.make(microphone) : opened.sentence;
  }

  return [
    {
      key: 'embedded',
      name: "Talkround's own recogniser",
      sendsAway: false,
      probe: parts.embedded.probe,
      make: () => parts.embedded.make(microphone),
    },
    {
      key: 'browser-local',
      name: "The browser's recogniser on this device",
      sendsAway: false,
      async probe() {
        const has = await localAvailability(speech);
        if (has === 'available') return { able: true };
        return { able: false, why: 'The browser has no recogniser on this device.' };
      },
      make: () =>
        pairEar({
          world: parts.world,
          seconds: () => parts.seconds(),
          first: browser(true)(),
          second: beside,
          ...(wait === undefined ? {} : { wait }),
        }),
    },
    {
      key: 'browser-service',
      name: "The browser's speech service",
      sendsAway: true,
      probe: () =>
        Promise.resolve(
          speech.api === null
            ? { able: false, why: 'This browser has no speech service.' }
            : { able: true },
        ),
      make: browser(false),
    },
  ];
}
