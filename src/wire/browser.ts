import { typedEar, type Ear } from '#capture';
import type { EarKind, Services } from '#screens';
import { browserSounder, browserSynth, browserVibrate, createVoice, type Voice } from '#speak';
import { openStore } from '#store';
import { readersFrom } from './readers.ts';
import { createServices, type EarNeeds } from './services.ts';
import { realWorld } from './world.ts';
import type { VoiceNeeds } from './walking.ts';

const DATABASE = 'talkround';

/** The recogniser's model and dictionary, beside the page. */
function modelBase(): string {
  return new URL('model/en-us/', document.baseURI).href;
}

/** Everything the screens need, over this browser. Rejects with a sentence when there is no record. */
export async function browserServices(): Promise<Services> {
  const world = realWorld();
  const store = await openStore({ name: DATABASE, world });
  let audio: AudioContext | null = null;
  const sounder = browserSounder(() => (audio ??= new AudioContext()));
  const synth = browserSynth();
  const vibrate = browserVibrate();

  function openVoice(
    needs: VoiceNeeds,
    settings: () => { voice: boolean; earcons: boolean },
  ): Voice {
    return createVoice({
      ...needs,
      synth: {
        get able() {
          return synth.able && settings().voice;
        },
        say: (text, started) => synth.say(text, started),
        cancel: () => synth.cancel(),
      },
      sounder: {
        sound: (name) => (settings().earcons ? sounder.sound(name) : Promise.resolve()),
      },
      vibrate,
      wait(seconds, then) {
        const timer = setTimeout(then, seconds * 1000);
        return () => clearTimeout(timer);
      },
      talk: () => (settings().voice ? 'exceptions' : 'tones'),
    });
  }

  async function openEar(kind: EarKind, needs: EarNeeds): Promise<Ear> {
    const parts = { world, seconds: needs.seconds };
    if (kind === 'typed' || kind === 'file') return typedEar(parts);
    const { openEars } = await import('./ears.ts');
    return openEars(kind, { ...needs, world, store, modelBase: modelBase() });
  }

  return createServices({
    store,
    world,
    readers: readersFrom(modelBase()),
    openEar,
    openVoice,
    async hearSound(bytes, name, edition, progress) {
      const { hearFile } = await import('./hear-file.ts');
      return hearFile(bytes, name, edition, modelBase(), progress);
    },
  });
}
