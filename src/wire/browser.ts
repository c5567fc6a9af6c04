import {
  headset,
  headsetPlatform,
  picturePlatform,
  readPicture,
  speechPlatform,
  typedEar,
} from '#capture';
import type { EarKind, Services, Uncopied } from '#screens';
import {
  browserSounder,
  browserSynth,
  browserVibrate,
  createVoice,
  type Talk,
  type Voice,
} from '#speak';
import { browserUpdates, openStore, type Update } from '#store';
import type { OpenedEar } from './hearing.ts';
import { lettersFrom } from './letters.ts';
import { localEar } from './local-ear.ts';
import { liveValue } from './live-value.ts';
import { uncopiedHere } from './offline-copy.ts';
import { readersFrom } from './readers.ts';
import type { EarNeeds } from './ear-needs.ts';
import { schoolOf } from './school.ts';
import { schoolOutside } from './school-outside.ts';
import { createServices } from './services.ts';
import { realWorld } from './world.ts';
import { hearingInWorker } from './workshop/hearing-apart.ts';
import type { VoiceNeeds } from './walking.ts';

const DATABASE = 'talkround';

/** Folder of the recogniser's model and dictionary, beside the page. */
function modelBase(): string {
  return new URL('model/', document.baseURI).href;
}

/** Address of the learned scores, beside the page. */
function scoresAt(): string {
  return new URL('reader/scores.bin', document.baseURI).href;
}

function wait(seconds: number, then: () => void): () => void {
  const timer = setTimeout(then, seconds * 1000);
  return () => clearTimeout(timer);
}

/** Everything the screens need, over this browser. Rejects with a sentence when there is no record. */
export async function browserServices(): Promise<Services> {
  const world = realWorld();
  const trouble = liveValue<string | null>(null);
  const store = await openStore({
    name: DATABASE,
    world,
    onLost: (why) => trouble.set(why),
    onEmptied: (why) => trouble.set(why),
    onBroughtBack: (what) => trouble.set(what),
  });
  const readers = readersFrom(`${modelBase()}en-us/`, scoresAt(), (why) => trouble.set(why));
  let audio: AudioContext | null = null;
  const sounder = browserSounder(() => (audio ??= new AudioContext()));
  const synth = browserSynth();
  const vibrate = browserVibrate();

  function openVoice(needs: VoiceNeeds, settings: () => { talk: Talk; earcons: boolean }): Voice {
    return createVoice({
      ...needs,
      synth,
      sounder: {
        get able() {
          return settings().earcons;
        },
        sound: (name) => (settings().earcons ? sounder.sound(name) : Promise.resolve()),
      },
      vibrate,
      wait,
      talk: () => settings().talk,
    });
  }

  async function openEar(kind: EarKind, needs: EarNeeds): Promise<OpenedEar> {
    const parts = { world, seconds: needs.seconds };
    if (kind === 'typed' || kind === 'file') return typedEar(parts);
    const { openEars } = await import('./ears.ts');
    return openEars({
      ...needs,
      world,
      store,
      modelBase: modelBase(),
      pronunciations: await readers.pronunciations(),
      grammar: await readers.grammarFor(needs),
    });
  }

  const updates = liveValue<Update | null>(null);
  void browserUpdates({ busy: () => store.recording(), onUpdate: (update) => updates.set(update) });
  const uncopied = liveValue<Uncopied | null>(null);
  // While developing there is no copy, and nobody is on a ramp.
  if (!import.meta.env.DEV) void uncopiedHere().then((why) => uncopied.set(why));

  return createServices({
    school: (inside) => schoolOf(inside, schoolOutside()),
    store,
    trouble,
    updates,
    uncopied,
    world,
    readers,
    letters: lettersFrom(new URL('letters/', document.baseURI).href),
    readPicture: (file) => readPicture(file, picturePlatform()),
    headset: headset(headsetPlatform(globalThis)),
    aloud: { sounder, synth, wait },
    hearing: hearingInWorker(`${modelBase()}en-us/`, scoresAt(), (words) =>
      synth.say(words, () => undefined),
    ),
    address: new URL('.', document.baseURI).href,
    front: {
      visible: () => document.visibilityState === 'visible',
      async allowed() {
        try {
          return (await navigator.permissions.query({ name: 'microphone' })).state === 'granted';
        } catch {
          // This browser does not tell: nothing is opened unasked.
          return false;
        }
      },
    },
    openEar,
    async openEarCheck(edition, told) {
      const [{ earCheckInBrowser }, { listeningParts }] = await Promise.all([
        import('#capture'),
        import('./listening-parts.ts'),
      ]);
      return earCheckInBrowser({
        ...told,
        modelBase: modelBase(),
        grammar: listeningParts(edition.catalogue, await readers.pronunciations()),
      });
    },
    openVoice,
    localEar: localEar({ platform: speechPlatform(), store }),
    async hearSound(bytes, name, edition, progress) {
      const { hearFile } = await import('./hear-file.ts');
      return hearFile({
        bytes,
        name,
        catalogue: edition.catalogue,
        modelBase: modelBase(),
        pronunciations: await readers.pronunciations(),
        id: () => world.id(),
        progress,
      });
    },
  });
}
