import { voiceFrom, type VoiceSettings } from '#capture';
import type { Store } from '#store';

const KEY = 'voices';

/** What the ear check found of each person's voice, kept on this device alone. */
export interface Voices {
  of(person: string): VoiceSettings | null;
  keep(person: string, voice: VoiceSettings): Promise<void>;
  /** Whether there was something to forget. */
  forget(person: string): Promise<boolean>;
}

/** One person under any spelling of capitals; nobody named is whoever holds the device. */
const keyOf = (person: string) => person.trim().toLowerCase();

export async function keptVoices(store: Pick<Store, 'setting' | 'setSetting'>): Promise<Voices> {
  const known = new Map<string, VoiceSettings>();
  const kept = await store.setting(KEY);
  if (typeof kept === 'object' && kept !== null)
    for (const [person, value] of Object.entries(kept)) {
      const voice = voiceFrom(value);
      if (voice !== null) known.set(person, voice);
    }
  const write = async () => store.setSetting(KEY, Object.fromEntries(known));
  return {
    of: (person) => known.get(keyOf(person)) ?? null,
    async keep(person, voice) {
      known.set(keyOf(person), voice);
      await write();
    },
    async forget(person) {
      const had = known.delete(keyOf(person));
      if (had) await write();
      return had;
    },
  };
}
