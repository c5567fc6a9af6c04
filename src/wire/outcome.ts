import type { Outcome } from '#screens';

export function good<T>(value: T): Outcome<T> {
  return { ok: true, value };
}

export function bad<T>(error: string): Outcome<T> {
  return { ok: false, error };
}

/** Runs an intent; what it throws becomes its one sentence. */
export async function attempt<T>(work: () => Promise<Outcome<T>>): Promise<Outcome<T>> {
  try {
    return await work();
  } catch (error) {
    return bad(error instanceof Error ? error.message : String(error));
  }
}

/** What was asked for, or the one sentence why not. */
export const asked = <T>(work: () => Promise<T>): Promise<Outcome<T>> =>
  attempt(async () => good(await work()));

/** The same where nothing comes back. */
export const done = (work: () => Promise<unknown>): Promise<Outcome> =>
  attempt(async () => {
    await work();
    return good(null);
  });
