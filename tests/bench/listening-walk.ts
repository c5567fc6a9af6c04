import type { Question } from '#shared/question';
import { FIRST_SCENE, type Scene } from '#shared/scene';
import type { Statement } from '#shared/statement';
import { AIDS, createRecogniser, hearSamples } from '../../src/capture/embedded/recognise.ts';
import { ORDINARY, type VoiceSettings } from '../../src/capture/embedded/voice.ts';
import { RATE } from '../speech/voice.ts';
import { missing, SPEAKERS, type Speaker } from '../speech/voices.ts';
import { decoderFor } from './listening-run.ts';
import { meaningOf, typed, type Aircraft } from './listening-set.ts';
import { earCheck, soundAt, type Place } from './listening-voices.ts';

/** A short walk from "begin" to "finish", with findings, answers, a correction and an interruption. */
const WALK: readonly { say: string; asked?: Question['kind'] }[] = [
  { say: 'begin' },
  { say: 'seat belts are good' },
  { say: 'left skid tube is cracked' },
  { say: 'front cross tube has corrosion' },
  { say: 'watch it', asked: 'severity' },
  { say: 'gear strut is cracked' },
  { say: 'the second one', asked: 'which-instance' },
  { say: 'right skid tube is good' },
  { say: 'take that back' },
  { say: 'hold the walk' },
  { say: 'resume the walk' },
  { say: 'what is left' },
  { say: 'finish' },
];

export interface WalkHeard {
  /** Lines that did what was said, on the first or, said again, the second time. */
  readonly right: number;
  readonly again: number;
  readonly of: number;
  /** Lines that did something that was not said. */
  readonly wrong: number;
  readonly findings: readonly [right: number, of: number];
  readonly misses: readonly string[];
}

/**
 * The walk in this voice. A line that gave nothing is said once more, as its pilot
 * would after the tone for it; in noise it meets another piece of the noise.
 */
export async function walkBy(
  speaker: Speaker,
  place: Place,
  plane: Aircraft,
  voice: VoiceSettings,
): Promise<WalkHeard> {
  const recogniser = createRecogniser(await decoderFor(plane), plane.parts, AIDS);
  await recogniser.fit(voice);
  let scene: Scene = FIRST_SCENE;
  let right = 0;
  let again = 0;
  let wrong = 0;
  const findings: [number, number] = [0, 0];
  const misses: string[] = [];
  for (const [i, { say, asked }] of WALK.entries()) {
    const meant = plane.grammar.read(typed(say), scene);
    const wanted = meaningOf(meant.statements).findings;
    findings[1] += wanted.size;
    for (let time = 0; time < 2; time++) {
      recogniser.near(plane.parts.near?.(scene) ?? [], asked ?? null);
      const sound = await soundAt(speaker, say, place, i + time * WALK.length);
      const heard = await hearSamples(recogniser, sound, RATE, { id: () => `w${String(i)}` });
      const text = heard.map((h) => h.text).join(', ');
      const got = plane.grammar.read(typed(text), scene).statements;
      if (text === say || same(meant.statements, got)) {
        findings[0] += wanted.size;
        right += 1;
        again += time;
        break;
      }
      misses.push(`"${say}" heard as "${text}"`);
      if (got.some((s) => done(s) !== null)) {
        wrong += 1;
        break;
      }
    }
    // It goes on as it was meant: what one line lost is not counted with the next.
    scene = meant.scene;
  }
  return { right, again, of: WALK.length, wrong, findings, misses };
}

/** The walk by each of these voices after its ear check. @throws Error that names a voice that is not here. */
export async function walks(
  names: readonly string[],
  places: readonly Place[],
  plane: Aircraft,
  print: (line: string) => void,
): Promise<Record<string, Partial<Record<Place, Omit<WalkHeard, 'misses'>>>>> {
  const figures: Record<string, Partial<Record<Place, Omit<WalkHeard, 'misses'>>>> = {};
  for (const name of names) {
    const speaker = SPEAKERS.find((s) => s.name === name);
    const lacking = speaker === undefined ? 'no such voice' : missing(speaker);
    if (speaker === undefined || lacking !== null)
      throw new Error(`"${name}" cannot speak here: ${lacking ?? ''}.`);
    const adapted = await earCheck(speaker, plane);
    const of: (typeof figures)[string] = (figures[name] = {});
    for (const place of places) {
      const voice = adapted.ok ? adapted.voice : ORDINARY;
      const { misses, ...heard } = await walkBy(speaker, place, plane, voice);
      of[place] = heard;
      print(
        `${name.padEnd(17)} ${place.padEnd(6)} ${String(heard.right)} of ${String(heard.of)} lines, ${String(heard.again)} of them said again, ${String(heard.wrong)} wrong, findings ${heard.findings.map(String).join(' of ')}${adapted.ok ? '' : `, no settings: ${adapted.why}`}`,
      );
      for (const miss of misses) print(`    ${miss}`);
    }
  }
  return figures;
}

function same(meant: readonly Statement[], got: readonly Statement[]): boolean {
  const deeds = (all: readonly Statement[]) => all.flatMap((s) => done(s) ?? []).join();
  const keys = (all: readonly Statement[]) => {
    const { checks, findings } = meaningOf(all);
    return [...checks, ...findings].sort().join();
  };
  return deeds(meant) !== '' && deeds(meant) === deeds(got) && keys(meant) === keys(got);
}

/** What a statement does; null where it does nothing by itself. */
function done(statement: Statement): string | null {
  if (statement.kind === 'command') return `command ${statement.command}`;
  if (statement.kind === 'not-understood') return null;
  if (statement.kind === 'observation' && statement.force !== 'result') return null;
  return statement.kind;
}
