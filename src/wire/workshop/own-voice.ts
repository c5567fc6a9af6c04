import type { EarCheck, EarCheckParts, VoiceSettings } from '#capture';
import { parseCatalogue } from '#catalogue';
import { nearNames, spoken } from '#grammar';
import type { MadeOfName, OwnVoice, OwnVoiceView, WordSound } from '#screens';
import type { Catalogue } from '#shared/catalogue';
import { liveValue } from '../live-value.ts';
import { FAINT, NOISY } from '../unheard.ts';
import { spread } from './spread.ts';

type Told = Pick<
  EarCheckParts<MediaStream>,
  'kept' | 'voice' | 'onLevel' | 'onState' | 'onChecked' | 'onAdapted'
>;
type Checked = Parameters<Told['onChecked']>[1];

export interface OwnVoiceParts {
  /** Opens the recogniser of this device on a catalogue that is being written. */
  open(catalogue: Catalogue, told: Told): Promise<EarCheck>;
  /** Settings of whoever says it, as on a walk; null: none are kept. */
  voice(): VoiceSettings | null;
  /** How each word is expected to sound. */
  sounds(text: string, names: readonly string[]): Promise<readonly WordSound[]>;
  /** Nothing else listens meanwhile: what is tried is no result (R1). */
  quiet(): Promise<void>;
  /** What listened before listens again. */
  again(): Promise<void>;
}

const OFF: OwnVoiceView = { state: 'off', name: '', trouble: null, made: null };

/**
 * One name of a draft, said once: what the recogniser makes of it with the draft
 * as it stands. Each try has a recogniser of its own, so that a pronunciation
 * that was mended meanwhile is in it; the sound goes with it.
 */
export function ownVoice(parts: OwnVoiceParts): OwnVoice {
  const now = liveValue<OwnVoiceView>(OFF);
  let check: EarCheck | null = null;
  let turn: Promise<void> = Promise.resolve();
  /** Which try it is: what comes of an earlier one is nobody's business. */
  let round = 0;

  function close(): void {
    check?.stop();
    check = null;
  }

  async function begin(text: string, station: string, name: string, mine: number): Promise<void> {
    const parsed = parseCatalogue(text, 'this catalogue');
    if (!parsed.ok) {
      const [first] = parsed.problems;
      throw new Error(`Line ${first?.line ?? 1}: ${first?.text ?? ''}`);
    }
    const words = spoken(name);
    const say = words.join(' ');
    if (say === '') throw new Error('This name has no word in it that can be said.');
    await parts.quiet();
    const expected = await parts.sounds(text, [say]);
    const near = nearNames(parsed.catalogue, station);
    const ours = () => mine === round;
    const opened = await parts.open(parsed.catalogue, {
      kept: null,
      voice: parts.voice(),
      onLevel: () => undefined,
      onState(state, sentence) {
        if (!ours() || now.get().state === 'done') return;
        if (state === 'trouble') {
          check = null;
          now.patch({ state, trouble: sentence });
          void parts.again();
          return;
        }
        if (now.get().state === 'starting') opened.read(say, near);
        now.patch({ state });
      },
      onChecked(_, checked) {
        if (!ours()) return;
        now.patch({ state: 'done', made: madeOf(say, words, expected, checked) });
        close();
        void parts.again();
      },
      onAdapted: () => undefined,
    });
    if (!ours()) return;
    check = opened;
    await opened.start();
  }

  return {
    now,
    start(text, station, name) {
      const mine = (round += 1);
      close();
      now.set({ ...OFF, state: 'starting', name });
      turn = turn
        .then(() => begin(text, station, name, mine))
        .catch((error: unknown) => {
          const trouble = error instanceof Error ? error.message : String(error);
          if (mine !== round) return;
          now.patch({ state: 'trouble', trouble });
          return parts.again();
        });
    },
    stop() {
      round += 1;
      const listened = ['starting', 'listening', 'hearing'].includes(now.get().state);
      close();
      now.set(OFF);
      turn = turn.then(() => (listened ? parts.again() : undefined));
      return turn;
    },
  };
}

function madeOf(
  say: string,
  words: readonly string[],
  expected: readonly WordSound[],
  { sound, understood, tried }: Checked,
): MadeOfName {
  const heard = tried?.heard?.replace(/^(the|a|an) /, '') ?? null;
  const sounds = tried?.sounds ?? [];
  // A short name said alone is often no words of a walk yet; its sounds tell.
  const as =
    heard === say || (heard === null && understood) ? 'heard' : heard === null ? 'not' : 'other';
  const phones = words.map((w) => expected.find((e) => e.word === w)?.phones.split(' ') ?? []);
  const shared = spread(phones, sounds);
  return {
    as,
    other: as === 'other' ? heard : null,
    sounds,
    faint: sound.level < FAINT,
    noisy: sound.snr < NOISY,
    words: words.flatMap((word, i) => {
      const own = (shared[i] ?? []).join(' ');
      return own === '' || own === (phones[i] ?? []).join(' ') ? [] : [{ word, heard: own }];
    }),
  };
}
