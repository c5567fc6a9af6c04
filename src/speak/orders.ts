import type { Coverage } from '#shared/coverage';
import type { Happened } from '#shared/happened';
import type { CommandName } from '#shared/statement';
import { readBackAll } from './findings.ts';
import {
  checkName,
  exception,
  stationName,
  type Around,
  type Line,
  type ReplySettings,
} from './lines.ts';
import { LONGEST_PROMPT, secondsToSay } from '#shared/speech';
import { list } from './wording.ts';

/**
 * Two of the orders that somebody who asks is told of. Of the ways to say each, those that
 * most voices are heard with in noise: "hold" has an end that they hardly say, and at 20 dB
 * 2 voices of 16 were heard with it, and 8 with this (tests/bench/LISTENING.md).
 */
export const OFFERED = {
  hold: 'pause the walk',
  finish: 'finish the walk',
} as const satisfies Readonly<Partial<Record<CommandName, string>>>;

const HELP = `Name a part and say how it is. Say: what's left, read back, take that back, ${OFFERED.hold}, or ${OFFERED.finish}.`;

export function commandsIn(happened: Happened): CommandName[] {
  return happened.statements.flatMap((s) => (s.kind === 'command' ? [s.command] : []));
}

/** The walk begins: cautions, what is carried, and where to go. */
export function begun(happened: Happened, { after }: Around, { catalogue }: ReplySettings): Line[] {
  const begin = happened.events.find((e) => e.what.kind === 'walk-begun');
  if (begin?.what.kind !== 'walk-begun') return [];
  const { squawks } = begin.what;
  const first = after.open[0]?.station ?? catalogue.stations[0]?.id ?? null;
  return [
    ...catalogue.cautions.map((text) => exception(text, 1)),
    ...(squawks.length === 0
      ? []
      : [
          exception(
            list(
              `${squawks.length} open:`,
              squawks.map((s) => s.text),
              5,
            ),
            2,
          ),
        ]),
    exception(`Listening. Begin at the ${stationName(catalogue, first) ?? 'aircraft'}`, 3),
  ];
}

/** Answers to orders. They are spoken in every setting: the pilot asked. */
export function ordered(happened: Happened, around: Around, settings: ReplySettings): Line[] {
  const { after } = around;
  const { catalogue } = settings;
  const order = (text: string, rank = 0): Line => ({ text, rank, from: 'order' });
  const here = after.open.filter((o) => o.station === after.station);
  const last = after.lastCompleted;
  const completed = last === null ? null : `Last completed: ${checkName(catalogue, last)}`;
  const lines = commandsIn(happened).flatMap((command): Line[] => {
    switch (command) {
      case 'left':
        return [
          order(
            left(
              after.open.map((o) => o.text),
              '',
              room(happened),
            ),
          ),
        ];
      case 'left-here':
        return [
          order(
            left(
              here.map((o) => o.text),
              ' here',
              room(happened),
            ),
          ),
        ];
      case 'where': {
        const at = stationName(catalogue, after.station);
        const next = here[0]?.text ?? after.open[0]?.text;
        return [
          order(at === null ? 'No station yet' : `You are at the ${at}`),
          ...(completed === null ? [] : [order(completed, 1)]),
          ...(next === undefined ? [] : [order(`Next: ${next}`, 2)]),
        ];
      }
      case 'read-back':
        return [order(readBackAll(after.findings, catalogue))];
      case 'next': {
        const next = after.open[0];
        return [order(next === undefined ? 'Nothing is left' : `Next: ${next.text}`)];
      }
      case 'discard':
        return after.discarded !== undefined || after.finished
          ? []
          : [order('To throw this walk away, say it again. Anything else keeps it')];
      case 'help':
        return [order(HELP)];
      default:
        return [];
    }
  });
  for (const { what } of happened.events) {
    if (what.kind === 'held') lines.push(exception('Held', 1));
    // FSF ALAR briefing note 1.5: after an interruption the last completed item is repeated.
    if (what.kind === 'resumed' && what.how === 'went-on') lines.push(exception('Going on', 1));
    else if (what.kind === 'resumed') {
      if (completed !== null) lines.push(order(completed, 0));
      lines.push(
        order(left(here.length > 0 ? here.map((o) => o.text) : after.open.map((o) => o.text)), 1),
      );
    }
    if (what.kind === 'discarded') {
      lines.push(order('Discarded. It counts for nothing; its words stay in the log', 0));
    }
    if (what.kind === 'finished') {
      lines.push(order(finishLine(after), 0));
    }
  }
  return lines;
}

function left(texts: readonly string[], where = '', seconds = LONGEST_PROMPT - 1): string {
  if (texts.length === 0) return `Nothing is left${where}`;
  return list(`${texts.length} left${where}:`, texts, seconds);
}

/** Seconds that are left beside what is asked in the same breath. */
function room({ asked }: Happened): number {
  return Math.max(3, LONGEST_PROMPT - 1 - (asked === null ? 0 : secondsToSay(asked.text)));
}

/** Worst first, what does not fit is counted; the decision is the pilot's (R9). */
function finishLine(after: Coverage): string {
  if (after.open.length === 0) {
    const standing = after.findings.filter((f) => f.settled !== 'taken-back').length;
    const findings =
      standing === 0 ? 'no finding' : standing === 1 ? 'one finding' : `${standing} findings`;
    return `Finished. Every required check is spoken for, ${findings}. The decision is yours`;
  }
  return list(
    `Finished with ${after.open.length} open:`,
    after.open.map((o) => o.text),
  );
}
