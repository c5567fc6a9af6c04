import { lexicon } from '../../grammar/lexicon.ts';
import { SIDE_WORDS, stems } from '../../grammar/names.ts';
import type { Catalogue, Check } from '#shared/catalogue';
import type { Label } from '../corpus/format.ts';
import { conditionLabels } from '../corpus/load.ts';
import type { Spoken } from '../corpus/walks.ts';

/**
 * An utterance in other words of the same meaning, for learning: the list's name of a thing by what
 * people call it, a plain fault and a plain "good" by a loose way to say it. The label stays what it is.
 * No sentence that anybody would say for certain, but what stands around the words is as it was said.
 */

/** Share of what could be said otherwise that is. */
const NAMES = 0.5;
const FAULTS = 0.5;
const GOODS = 0.35;
/** "Nose" and "tip" are words of many things; a name this short is left. */
const SHORTEST = 4;
const PLAIN = /\b(?:all good|looks good|is good|are good|is fine|are fine|good|fine|okay|ok)\b/i;

const escaped = (text: string): string => text.replace(/[.*+?^${}()|[\]\\]/g, '\\$&');

/** What people call a check by one of its names; nothing where the name is that of two things ("belt"). */
function otherNames(name: string): readonly string[] {
  const key = bareStems(name);
  const things = lexicon().parts.filter(({ names }) => names.some((n) => bareStems(n) === key));
  return things.length === 1 ? (things[0]?.said ?? []) : [];
}

const bareStems = (name: string): string =>
  stems(name)
    .filter((w) => !SIDE_WORDS.has(w))
    .join(' ');

/** The words of a name without its side: "left aileron" is the aileron. */
const bareOf = (name: string): string =>
  name
    .split(/\s+/)
    .filter((w) => !SIDE_WORDS.has(stems(w)[0] ?? ''))
    .join(' ');

export class Rewording {
  private readonly known = new Map<string, readonly string[]>();
  private readonly checks: ReadonlyMap<string, Check>;
  private readonly draw: () => number;
  /** The lexicon's names of the corpus's conditions. */
  private readonly ids = conditionLabels();

  constructor(catalogue: Catalogue, draw: () => number) {
    this.checks = new Map(catalogue.stations.flatMap((s) => s.checks.map((c) => [c.id, c])));
    this.draw = draw;
  }

  private pick(list: readonly string[]): string | undefined {
    return list[Math.floor(this.draw() * list.length)];
  }

  private named(name: string): readonly string[] {
    let found = this.known.get(name);
    if (found === undefined) this.known.set(name, (found = otherNames(name)));
    return found;
  }

  /** The words, perhaps changed. */
  of({ say, labels }: Spoken): string {
    let text = say;
    for (const label of labels) if (label.kind === 'claim') text = this.claim(text, label);
    return text;
  }

  private claim(said: string, label: Extract<Label, { kind: 'claim' }>): string {
    let text = said;
    for (const id of label.checks) {
      const check = this.checks.get(id);
      if (check === undefined || this.draw() > NAMES) continue;
      const names = [check.name, ...check.say].map(bareOf).sort((a, b) => b.length - a.length);
      for (const name of names) {
        if (name.length < SHORTEST) continue;
        const pattern = new RegExp(`\\b${escaped(name)}(s?)\\b`, 'i');
        if (!pattern.test(text)) continue;
        const other = this.pick(this.named(name));
        if (other !== undefined)
          text = text.replace(pattern, (_, s: string) =>
            s !== '' && !other.endsWith('s') ? `${other}s` : other,
          );
        break;
      }
    }
    for (const sign of label.signs) {
      const id = this.ids[sign.id]?.accept[0] ?? sign.id;
      const loose = lexicon().loose.conditions[id] ?? [];
      const entry = lexicon().conditions.find((c) => c.id === id);
      if (loose.length === 0 || entry === undefined || this.draw() > FAULTS || !sign.present)
        continue;
      const word = [...entry.say]
        .sort((a, b) => b.length - a.length)
        .find((w) => new RegExp(`\\b${escaped(w)}\\b`, 'i').test(text));
      const other = this.pick(loose);
      if (word !== undefined && other !== undefined)
        text = text.replace(new RegExp(`\\b${escaped(word)}\\b`, 'i'), other);
    }
    const plainly = label.good === true && label.signs.length === 0 && !label.actOnly;
    if (plainly && this.draw() < GOODS) {
      const other = this.pick(lexicon().loose.good);
      if (other !== undefined) text = text.replace(PLAIN, other);
    }
    return text;
  }
}
