import { FIRST_SCENE } from '#shared/scene';
import type { Statement } from '#shared/statement';
import { createRecogniser, hearSamples, type Aids } from '../../src/capture/embedded/recognise.ts';
import { NOISES, over } from '../speech/noise.ts';
import { joined, RATE, say, VOICES } from '../speech/voice.ts';
import { speech, type Speaker } from '../speech/voices.ts';
import { decoderFor, type Condition } from './listening-run.ts';
import { typed, type Aircraft } from './listening-set.ts';

/** The short words that run a walk; the most important ones, and the hardest for a recogniser. */
export const COMMANDS = [
  'hold',
  'resume',
  'yes',
  'no',
  "what's left",
  'finish',
  'squawk',
  'that was wrong',
];

const ANSWERS: ReadonlySet<string> = new Set(['yes', 'no']);

/** One letter a voice: r right, w taken for what does something else, o for words that do nothing, - nothing heard. */
export interface CommandRow {
  readonly text: string;
  readonly marks: Readonly<Record<string, string>>;
  /** What it was taken for. */
  readonly taken: readonly string[];
}

/** The same by the voices of the wider bench. */
export const spokenBy = (speakers: readonly Speaker[]) =>
  speakers.map((speaker) => (text: string) => speech(speaker, text));

/** Each command alone, in each voice; for yes and no a question is open. Wrong: it would do something that was not said. */
export async function commandsAlone(
  plane: Aircraft,
  aids: Aids,
  conditions: readonly Condition[],
  voices: readonly ((text: string) => Promise<Float32Array>)[] = VOICES.map(
    (voice) => (text: string) => say(text, voice),
  ),
  texts: readonly string[] = COMMANDS,
): Promise<CommandRow[]> {
  const recogniser = createRecogniser(await decoderFor(plane), plane.parts, aids);
  const rows: CommandRow[] = [];
  for (const [c, text] of texts.entries()) {
    recogniser.expect(FIRST_SCENE);
    // Without a question these two mean nothing.
    if (ANSWERS.has(text)) recogniser.near([], 'polarity');
    const marks: Record<string, string> = {};
    const taken: string[] = [];
    for (const condition of conditions) {
      let row = '';
      for (const [v, voice] of voices.entries()) {
        const clean = joined([await voice(text)], 0.6).samples;
        const kind = NOISES[(c + v) % NOISES.length] ?? 'pink';
        const decibels = Number(condition.slice(3));
        const sound =
          condition === 'clean' ? clean : over(clean, kind, decibels, RATE, 300 + c * 10 + v);
        const heard = await hearSamples(recogniser, sound, RATE, { id: () => 'command' });
        const got = heard.map((h) => h.text).join(' | ');
        const mark = markOf(plane, text, got);
        if (mark === 'w' || mark === 'o') taken.push(`${condition} ${String(v)}: "${got}"`);
        row += mark;
      }
      marks[condition] = row;
    }
    rows.push({ text, marks, taken });
  }
  return rows;
}

function markOf(plane: Aircraft, said: string, got: string): 'r' | 'w' | 'o' | '-' {
  if (got === '') return '-';
  const [want, have] = [said, got].map((text) =>
    plane.grammar.read(typed(text.replace(' | ', ', ')), FIRST_SCENE).statements.flatMap(deeds),
  );
  if (got === said || want?.join() === have?.join()) return 'r';
  return have?.length === 0 ? 'o' : 'w';
}

/** What a statement does; nothing, where it names a check without a result or is not understood. */
function deeds(statement: Statement): string[] {
  if (statement.kind === 'command') return [`command ${statement.command}`];
  if (statement.kind === 'not-understood') return [];
  if (statement.kind === 'observation' && statement.force !== 'result') return [];
  return [statement.kind];
}
