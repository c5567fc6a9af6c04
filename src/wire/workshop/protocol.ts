import type { Hearing } from '#screens';

/** What is asked in the worker: everything but speaking, which needs the page. */
export type Asked = {
  readonly [K in Exclude<keyof Hearing, 'say'>]: {
    readonly id: number;
    readonly what: K;
    readonly with: Parameters<Hearing[K]>;
  };
}[Exclude<keyof Hearing, 'say'>];

export type Told =
  | { readonly id: number; readonly ok: true; readonly value: unknown }
  | { readonly id: number; readonly ok: false; readonly error: string };

/** The first message: where the model and its dictionary are. */
export interface Begin {
  readonly modelBase: string;
  /** Address of the learned scores. */
  readonly scoresAt: string;
}
