import type { Ear } from './ear.ts';

/** The one setting, remembered. */
export type Allowed = 'this-device' | 'browser-service';

export const ALLOWED_WORDS: Readonly<Record<Allowed, string>> = {
  'this-device': 'On this device only',
  'browser-service': "The browser's service allowed",
};

/** A source that may listen. */
export interface Source {
  readonly key: 'embedded' | 'browser-local' | 'browser-service';
  readonly name: string;
  readonly sendsAway: boolean;
  /** Whether it would work here, and if not, why, in one sentence. Asks nobody and sends nothing. */
  probe(): Promise<{ readonly able: true } | { readonly able: false; readonly why: string }>;
  make(): Ear;
}

/**
 * In which order sources are tried. The browser's own on this device comes first
 * where it is there now: it was made for any voice, and ours, which knows the
 * catalogue, listens beside it (`pair.ts`) and takes over when it fails. Where
 * sound may leave, what sends it away still comes behind what does not.
 */
const ORDER: Readonly<Record<Allowed, readonly Source['key'][]>> = {
  'this-device': ['browser-local', 'embedded'],
  'browser-service': ['browser-local', 'browser-service', 'embedded'],
};

/** Said before first use of a source that sends sound away. */
export const PRIVACY =
  "The browser's speech service sends the sound of your voice over the network to be recognised. The recording stays on this device.";

export interface Chosen {
  readonly source: Source;
  /** Which one listens and whether sound leaves the device. */
  readonly sentence: string;
  /** To be shown and agreed to before it starts; null when there is nothing to agree to. */
  readonly privacy: string | null;
  /** Why those before it in the order were passed over. */
  readonly passedOver: readonly string[];
}

export type Choice =
  ({ readonly ok: true } & Chosen) | { readonly ok: false; readonly sentence: string };

/**
 * Probes the sources in order and picks the first that would work.
 *
 * @param agreed the pilot has agreed to sound leaving the device, now or before.
 */
export async function chooseEar(
  allowed: Allowed,
  sources: readonly Source[],
  agreed = false,
): Promise<Choice> {
  const passedOver: string[] = [];
  for (const key of ORDER[allowed]) {
    const source = sources.find((s) => s.key === key);
    if (source === undefined || (source.sendsAway && allowed === 'this-device')) continue;
    const answer = await source
      .probe()
      .catch(() => ({ able: false as const, why: `${source.name} does not answer.` }));
    if (answer.able) {
      return {
        ok: true,
        source,
        sentence: listensSentence(source),
        privacy: source.sendsAway && !agreed ? PRIVACY : null,
        passedOver,
      };
    }
    passedOver.push(answer.why);
  }
  return {
    ok: false,
    sentence: `Nothing can listen here: ${passedOver.join(' ') || 'no recogniser is built in.'} Words can be typed.`,
  };
}

export function listensSentence(source: Pick<Source, 'name' | 'sendsAway'>): string {
  return source.sendsAway
    ? `${source.name} listens. The sound leaves this device.`
    : `${source.name} listens. No sound leaves this device.`;
}

/**
 * What may take over when a source fails in mid-walk. Never one that sends
 * sound away in place of one that does not, whatever the setting allows: that
 * is the pilot's to decide.
 */
export function substitutes(
  failed: Source,
  allowed: Allowed,
  sources: readonly Source[],
): readonly Source[] {
  return ORDER[allowed]
    .flatMap((key) => sources.find((s) => s.key === key) ?? [])
    .filter((s) => s.key !== failed.key && (!s.sendsAway || failed.sendsAway))
    .sort((a, b) => Number(a.sendsAway) - Number(b.sendsAway));
}
