import type { StateSaid } from './free-fault.ts';

/*
 * What is said of aircraft in squawks beyond the words of a walk: shimmy, a light
 * that is out, a magneto that drops. Common practice, no source.
 */

interface Way {
  readonly says: RegExp;
  /** Only of a thing that this fits. */
  readonly of?: RegExp;
  readonly condition: string;
}

const WAYS: readonly Way[] = [
  { says: /\bshimm(?:y|ies|ying|ied)\b/gi, condition: 'shimmy' },
  {
    says: /\b(?:is|are|was|were)?\s*\b(?:out|dead|dark|failed|u\/s|burn(?:t|ed) out|blown)\b/gi,
    of: /\b(?:light|lights|lamp|lamps|strobe|strobes|beacon|bulb|bulbs|led|leds)\b/i,
    condition: 'inoperative',
  },
  {
    says: /\b(?:drops|dropped|dropping|drop of|drop)\b/gi,
    of: /\b(?:mag|mags|magneto|magnetos|rpm)\b/i,
    condition: 'drop',
  },
  {
    says: /\b(?:soft|spongy|mushy)\b/gi,
    of: /\b(?:brake|brakes|pedal|pedals)\b/i,
    condition: 'soft',
  },
];

/** "Left brake's a bit soft" as it is written out, so that the name ends where it ends. */
export function writtenOut(text: string): string {
  return text
    .replace(
      /\b(\w+)['’]s\b(?=\s+(?:a|an|the|not|too|very|bit|all|been|got|\w+ing|\w+ed|\w+)\b)/gi,
      '$1 is',
    )
    .replace(/\s+/g, ' ')
    .trim();
}

/** The states of a text with the trade's own ones; of two readings of one word the trade's stands. */
export function tradeStates(text: string, states: readonly StateSaid[]): readonly StateSaid[] {
  const found = WAYS.flatMap(({ says, of, condition }): StateSaid[] => {
    if (of !== undefined && !of.test(text)) return [];
    return [...text.matchAll(says)].map((m) => {
      const lead = m[0].length - m[0].trimStart().length;
      const from = wordsBefore(text, m.index + lead);
      return { condition, from, to: from + m[0].trim().split(/\s+/).length };
    });
  });
  const free = states.filter((s) => !found.some((f) => f.from < s.to && s.from < f.to));
  return [...free, ...found].sort((a, b) => a.from - b.from);
}

function wordsBefore(text: string, at: number): number {
  return text
    .slice(0, at)
    .split(/\s+/)
    .filter((w) => w !== '').length;
}

/** The part that a condition is written up against, whatever it was noticed on; null for the one that was said. */
export function partFor(states: readonly StateSaid[]): string | null {
  return states.some((s) => s.condition === 'shimmy') ? 'shimmy damper' : null;
}

const SLIGHT = /\b(?:a bit|a little|slight|slightly|a touch|bit)\s*$/i;
const SEVERE = /\b(?:badly|very|severe|severely|really|heavily|completely)\s*$/i;

/** How much, by the words right before a condition; null when it was not said. */
export function degreeBefore(words: readonly string[], from: number): 'slight' | 'severe' | null {
  const before = words.slice(Math.max(0, from - 3), from).join(' ');
  return SLIGHT.test(before) ? 'slight' : SEVERE.test(before) ? 'severe' : null;
}
