import { OFFERED } from '#speak';
import { createRecogniser, type Aids } from '../../src/capture/embedded/recognise.ts';
import { ORDINARY } from '../../src/capture/embedded/voice.ts';
import { speech, type Speaker } from '../speech/voices.ts';
import { COMMANDS, commandsAlone, spokenBy } from './listening-commands.ts';
import { nonWalk } from './listening-others.ts';
import { decoderFor } from './listening-run.ts';
import type { Aircraft } from './listening-set.ts';

/** The two commands that decide whether talk counts: how many voices were heard saying it. */
export interface HeardOf {
  clean: number;
  snr20: number;
  of: number;
}

export interface CommandFigures {
  /** Shares of all eight commands in all voices. */
  clean: number;
  snr20: number;
  /** Commands that did what was not said, of both. */
  wrong: number;
  hold: HeardOf;
  finish: HeardOf;
  /** The same two as somebody is told to say them who asks for help. */
  offered: { readonly hold: HeardOf; readonly finish: HeardOf };
  /** Orders heard in talk and noise that were no orders, and for how long it was listened to. */
  falsePerHour: number;
  hours: number;
}

/** The commands alone in these voices, and the orders that are heard in an hour of talk that has none. */
export async function commandFigures(
  plane: Aircraft,
  speakers: readonly Speaker[],
  aids: Aids,
  quick: boolean,
  print: (line: string) => void,
): Promise<CommandFigures | null> {
  if (speakers.length === 0) return null;
  // The last voice that was measured may have left its settings.
  await createRecogniser(await decoderFor(plane), plane.parts, aids).fit(ORDINARY);
  const texts = [...COMMANDS, OFFERED.hold, OFFERED.finish];
  const spoken = spokenBy(speakers);
  const rows = await commandsAlone(plane, aids, ['clean', 'snr20'], spoken, texts);
  const eight = rows.slice(0, COMMANDS.length);
  const marks = (place: 'clean' | 'snr20', text?: string) =>
    (text === undefined ? eight : rows)
      .filter((r) => text === undefined || r.text === text)
      .map((r) => r.marks[place] ?? '')
      .join('');
  const count = (of: string, mark: string) => of.split(mark).length - 1;
  for (const { text, taken } of rows)
    print(
      `  ${text.padEnd(16)} clean ${marks('clean', text)}  snr20 ${marks('snr20', text)}${taken.length > 0 ? `  ${taken.join('; ')}` : ''}`,
    );
  const heard = (text: string): HeardOf => ({
    clean: count(marks('clean', text), 'r'),
    snr20: count(marks('snr20', text), 'r'),
    of: speakers.length,
  });
  const share = (place: 'clean' | 'snr20') =>
    count(marks(place), 'r') / Math.max(1, marks(place).length);
  const talk = await nonWalk(
    [plane],
    aids,
    quick,
    speakers.map((speaker) => (text: string) => speech(speaker, text)),
  );
  for (const text of talk.orderly) print(`    taken for an order: "${text}"`);
  const hours = talk.seconds / 3600;
  const figures: CommandFigures = {
    clean: share('clean'),
    snr20: share('snr20'),
    wrong: count(marks('clean') + marks('snr20'), 'w'),
    hold: heard('hold'),
    finish: heard('finish'),
    offered: { hold: heard(OFFERED.hold), finish: heard(OFFERED.finish) },
    falsePerHour: talk.orders / hours,
    hours,
  };
  print(
    `commands, ${String(speakers.length)} natural voices (${speakers.map((s) => s.name).join(' ')}): ${percent(figures.clean)} clean, ${percent(figures.snr20)} at 20 dB, ${String(figures.wrong)} wrong; hold ${told(figures.hold)}, finish ${told(figures.finish)}; "${OFFERED.hold}" ${told(figures.offered.hold)}, "${OFFERED.finish}" ${told(figures.offered.finish)}; ${String(talk.orders)} false in ${(hours * 60).toFixed(1)} min of talk and noise, ${String(talk.falseSpokenFor)} false "spoken for"`,
  );
  return figures;
}

function told({ clean, snr20, of }: HeardOf): string {
  return `${String(clean)} clean and ${String(snr20)} at 20 dB of ${String(of)}`;
}

function percent(share: number): string {
  return `${(share * 100).toFixed(0)} %`;
}
