import type { Api, ApiResultEvent, PlainEvent, SpeechPlatform } from '#capture';
import type { FakeTime } from './time.ts';

/** One result as a row: [text, final, confidence, further alternatives]. */
export type Row = readonly [text: string, final: 0 | 1, confidence?: number, more?: string[]];

/** What a platform does, in its own time: seconds after the start of the session. */
export type Act = readonly [
  at: number,
  what: PlainEvent | { error: string } | { results: readonly Row[]; index?: number },
];

export interface Double {
  readonly platform: SpeechPlatform;
  /** What was done to the API, with the time: "start 0", "stop 3". */
  readonly calls: string[];
  /** What was asked of the platform beside listening: "available here", "install en-US". */
  readonly asked: string[];
  /** Settings of each session as it was started. */
  readonly settings: { processLocally: boolean | undefined; phrases: number }[];
}

/**
 * A double of the browser's speech API. It replays one list of acts for each
 * session, in the order of sessions; further sessions replay the last list.
 */
export function recognitionDouble(
  time: FakeTime,
  sessions: readonly (readonly Act[])[],
  options: {
    android?: boolean;
    permission?: 'granted' | 'denied' | 'prompt' | 'unknown';
    /** State of the recogniser on this device; `throws`: the question itself fails. */
    available?: string;
    /**
     * What comes of an installation: done, refused, an error, a yes with nothing
     * behind it, or no answer at all, as when the network is cut off.
     */
    install?: 'done' | 'refused' | 'throws' | 'empty' | 'never';
    /** stop() and abort() are answered with `end`; false: never. */
    endsWhenTold?: boolean;
    throwsOnStart?: number;
  } = {},
): Double {
  const calls: string[] = [];
  const asked: string[] = [];
  const settings: Double['settings'] = [];
  let count = 0;
  class Recognition {
    lang = '';
    continuous = false;
    interimResults = false;
    maxAlternatives = 1;
    phrases: unknown[] = [];
    #local: boolean | undefined;
    #listeners = new Map<string, ((event: never) => void)[]>();
    #cancel: (() => void)[] = [];
    get processLocally(): boolean | undefined {
      return this.#local;
    }
    set processLocally(value: boolean | undefined) {
      this.#local = value;
    }
    addEventListener(type: string, take: (event: never) => void): void {
      this.#listeners.set(type, [...(this.#listeners.get(type) ?? []), take]);
    }
    #fire(type: string, event: unknown): void {
      for (const take of this.#listeners.get(type) ?? []) take(event as never);
    }
    start(): void {
      calls.push(`start ${time.seconds()}`);
      if (calls.filter((c) => c.startsWith('start')).length <= (options.throwsOnStart ?? 0)) {
        throw new Error('recognition has already started');
      }
      settings.push({ processLocally: this.#local, phrases: this.phrases.length });
      const acts = sessions[Math.min(count, sessions.length - 1)] ?? [];
      count += 1;
      this.#cancel = acts.map(([at, what]) =>
        time.wait(at, () => {
          if (typeof what === 'string') this.#fire(what, {});
          else if ('error' in what) this.#fire('error', what);
          else this.#fire('result', resultEvent(what.results, what.index ?? 0));
        }),
      );
    }
    #told(how: string): void {
      calls.push(`${how} ${time.seconds()}`);
      for (const cancel of this.#cancel) cancel();
      if (options.endsWhenTold !== false) time.wait(0.1, () => this.#fire('end', {}));
    }
    stop(): void {
      this.#told('stop');
    }
    abort(): void {
      this.#told('abort');
    }
    static available: Api['available'];
    static install: Api['install'];
  }
  if (options.available !== undefined) {
    let answer = options.available;
    Recognition.available = ({ processLocally }) => {
      asked.push(`available ${processLocally ? 'here' : 'anywhere'}`);
      return answer === 'throws'
        ? Promise.reject(new Error('not allowed'))
        : Promise.resolve(answer);
    };
    const { install } = options;
    if (install !== undefined)
      Recognition.install = ({ langs }) => {
        asked.push(`install ${langs.join()}`);
        answer = 'downloading';
        return new Promise((done, failed) => {
          if (install === 'never') return;
          time.wait(30, () => {
            answer = install === 'done' ? 'available' : 'downloadable';
            if (install === 'throws') failed(new Error('network'));
            else done(install !== 'refused');
          });
        });
      };
  }
  return {
    calls,
    asked,
    settings,
    platform: {
      api: Recognition,
      phrase: class {
        constructor(
          readonly phrase: string,
          readonly boost: number,
        ) {}
      },
      android: options.android ?? false,
      permission: () => Promise.resolve(options.permission ?? 'granted'),
    },
  };
}

function resultEvent(rows: readonly Row[], resultIndex: number): ApiResultEvent {
  return {
    resultIndex,
    results: rows.map(([text, final, confidence = final === 1 ? 0.9 : 0.5, more = []]) =>
      Object.assign(
        [text, ...more].map((transcript, i) => ({
          transcript,
          confidence: i === 0 ? confidence : 0.3,
        })),
        { isFinal: final === 1 },
      ),
    ),
  };
}
