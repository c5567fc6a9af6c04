import type { Choices, Settings } from '#screens';
import type { Store } from '#store';
import { liveValue, type Value } from './live-value.ts';

const KEY = 'settings';

export const FIRST_SETTINGS: Settings = {
  theme: 'system',
  // The recogniser on the device: no sound leaves it unless the user says so.
  ear: 'embedded',
  keepSound: true,
  talk: 'exceptions',
  earcons: true,
  pilot: '',
  certificate: '',
  paper: 'a4',
  language: 'en',
};

/** The settings as kept on this device. Values of another kind than expected are left out. */
export async function keptSettings(store: Store): Promise<Value<Settings>> {
  const kept = await store.setting(KEY);
  return liveValue({ ...FIRST_SETTINGS, ...usable(kept) });
}

export function changeSettings(
  settings: Value<Settings>,
  store: Store,
  part: Partial<Settings>,
): void {
  settings.patch(part);
  void store.setSetting(KEY, settings.get());
}

const TALKS: readonly unknown[] = [
  'tones',
  'exceptions',
  'everything',
] satisfies Settings['talk'][];

const LANGUAGES: readonly unknown[] = ['en', 'de'] satisfies Settings['language'][];

function usable(kept: unknown): Partial<Settings> {
  if (typeof kept !== 'object' || kept === null) return {};
  const first: Readonly<Record<string, unknown>> = { ...FIRST_SETTINGS };
  const values: Record<string, unknown> = { ...kept };
  // An earlier version kept "voice", yes or no.
  if (values['talk'] === undefined && values['voice'] === false) values['talk'] = 'tones';
  return Object.fromEntries(
    Object.entries(values).filter(
      ([key, value]) =>
        typeof first[key] === typeof value &&
        (key !== 'talk' || TALKS.includes(value)) &&
        (key !== 'language' || LANGUAGES.includes(value)),
    ),
  );
}

/** What was walked last, as kept on this device. */
export function lastFrom(kept: unknown): Choices['last'] {
  if (typeof kept !== 'object' || kept === null) return null;
  const { aircraft, catalogue } = kept as Record<string, unknown>;
  return typeof aircraft === 'string' && typeof catalogue === 'string'
    ? { aircraft, catalogue }
    : null;
}
