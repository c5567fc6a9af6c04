/** A network on a bad day, for a number of devices. */
export interface Network {
  readonly fetch: typeof fetch;
  bad(is: boolean): void;
  requests(): number;
  cut(): number;
  doubled(): number;
  /** Something that went over it, as a thief has it. */
  stolen(random: () => number): { readonly url: string; readonly init: RequestInit } | null;
}

/** How often each happens, of one request. */
const CUT_BEFORE = 0.08;
const CUT_AFTER = 0.08;
const DOUBLED = 0.1;
const LATE = 0.15;
/** How late at most, milliseconds: later than the next requests of the same device. */
const LATEST = 3_000;
/** How much a thief remembers. */
const KEPT = 200;

export function badNetwork(random: () => number): Network {
  let bad = false;
  let requests = 0;
  let cut = 0;
  let doubled = 0;
  const wire: { url: string; init: RequestInit }[] = [];
  const pause = (ms: number) => new Promise((resolve) => setTimeout(resolve, ms));
  const lost = () => {
    cut += 1;
    return new TypeError('The network was cut.');
  };
  return {
    bad: (is) => (bad = is),
    requests: () => requests,
    cut: () => cut,
    doubled: () => doubled,
    stolen: (dice) => wire[Math.floor(dice() * wire.length)] ?? null,
    async fetch(input, init = {}) {
      requests += 1;
      const url = String(input);
      if (!bad) return fetch(url, init);
      wire.push({ url, init: { ...init, signal: null } });
      if (wire.length > KEPT) wire.shift();
      if (random() < CUT_BEFORE) throw lost();
      const late = random() < LATE ? random() * LATEST : 0;
      if (random() < DOUBLED) {
        doubled += 1;
        // The copy arrives some time, before or after, and nobody reads its answer.
        void pause(random() * LATEST)
          .then(() => fetch(url, { ...init, signal: null }))
          .then((r) => r.arrayBuffer())
          .catch(() => undefined);
      }
      await pause(late);
      // Given up by the device, and under way all the same.
      if (random() < CUT_AFTER) {
        void fetch(url, { ...init, signal: null })
          .then((r) => r.arrayBuffer())
          .catch(() => undefined);
        throw lost();
      }
      return fetch(url, init);
    },
  };
}
