/*
 * The browser's speech API as far as it is used here, after the specification
 * (https://webaudio.github.io/web-speech-api/). Described by its shape, because
 * it is named differently on different platforms, is missing on many, and is
 * replaced by a double in tests.
 */

export interface ApiAlternative {
  readonly transcript: string;
  readonly confidence: number;
}

export interface ApiResult {
  readonly isFinal: boolean;
  readonly length: number;
  readonly [index: number]: ApiAlternative;
}

export interface ApiResultEvent {
  readonly resultIndex: number;
  readonly results: { readonly length: number; readonly [index: number]: ApiResult };
}

export interface ApiErrorEvent {
  readonly error: string;
  readonly message?: string;
}

/** Events that carry nothing. */
export type PlainEvent =
  | 'start'
  | 'end'
  | 'audiostart'
  | 'audioend'
  | 'soundstart'
  | 'soundend'
  | 'speechstart'
  | 'speechend'
  | 'nomatch';

export interface ApiRecognition {
  lang: string;
  continuous: boolean;
  interimResults: boolean;
  maxAlternatives: number;
  processLocally?: boolean;
  phrases?: unknown[];
  start(): void;
  stop(): void;
  abort(): void;
  addEventListener(type: PlainEvent, take: () => void): void;
  addEventListener(type: 'result', take: (event: ApiResultEvent) => void): void;
  addEventListener(type: 'error', take: (event: ApiErrorEvent) => void): void;
}

export interface Api {
  new (): ApiRecognition;
  /** Missing on most platforms. */
  available?(options: { langs: string[]; processLocally: boolean }): Promise<string>;
  install?(options: { langs: string[] }): Promise<boolean>;
}

/** Makes a phrase to listen for with preference; boost 0 to 10. */
export type ApiPhrase = new (phrase: string, boost: number) => unknown;

/** What the platform offers, found once and passed in. */
export interface SpeechPlatform {
  readonly api: Api | null;
  readonly phrase: ApiPhrase | null;
  /** Its results repeat themselves and its `continuous` has no effect. */
  readonly android: boolean;
  /** State of the permission to use the microphone, where the platform tells. */
  permission(): Promise<'granted' | 'denied' | 'prompt' | 'unknown'>;
}

/** The speech API of this window. */
export function speechPlatform(scope: object = globalThis): SpeechPlatform {
  const found = scope as {
    SpeechRecognition?: Api;
    webkitSpeechRecognition?: Api;
    SpeechRecognitionPhrase?: ApiPhrase;
    navigator?: {
      userAgent?: string;
      permissions?: { query(what: { name: string }): Promise<{ state: string }> };
    };
  };
  return {
    api: found.SpeechRecognition ?? found.webkitSpeechRecognition ?? null,
    phrase: found.SpeechRecognitionPhrase ?? null,
    android: /android/i.test(found.navigator?.userAgent ?? ''),
    async permission() {
      try {
        const answer = await found.navigator?.permissions?.query({ name: 'microphone' });
        const state = answer?.state;
        return state === 'granted' || state === 'denied' || state === 'prompt' ? state : 'unknown';
      } catch {
        // Some platforms refuse the very question.
        return 'unknown';
      }
    },
  };
}
