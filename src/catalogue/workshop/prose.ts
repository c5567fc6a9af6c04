import type { Item } from './draft.ts';
import { bare } from './items.ts';

/** An instruction at the head of a clause, and what it is about behind it. */
const INSTRUCTION =
  /^(?:(?:also|then|and|visually)\s+)*(?:check|inspect|examine|verify|ensure|look (?:at|for)|confirm|test|move|remove|make sure|see|feel|measure|pull|push|open|close|drain|observe)\b(?:\s+(?:that|of|for))*\s+(.*)$/i;
const DEMAND = /^(.*?)\s+(?:must|should|shall|has to|have to|needs? to)\s+(.*)$/i;
/** Where the name of a thing ends in a sentence. */
const ENDS =
  /\s+(?:is|are|for|must|should|shall|has|have|moves|opens|closes|retracts|locks|releases|can|does|do|shows|through|to|with|which|by|until|runs?|fits?|turns?|operates?|stands?|before|after|while|and (?:check|make|see|ensure|verify|that))\b/i;

/** Sentences of a paragraph. A dot inside a number ends none. */
export function sentencesOf(text: string): string[] {
  return text
    .split(/(?<=[\p{L}\d)][.!?])\s+(?=\p{Lu})/u)
    .map((s) => s.trim())
    .filter((s) => s !== '');
}

/** The things that a sentence asks to be looked at. */
export function sentenceItems(sentence: string, lines: readonly number[]): Item[] {
  const clauses = sentence
    .replace(/[.!?]$/, '')
    .split(
      /\s*(?:;|,?\s+and\s+(?=(?:make sure|check|ensure|verify|inspect|see)\b)|,\s+(?=(?:make sure|check|ensure|verify|inspect)\b)|\s+and\s+(?=the\s+[\p{L} ]+\s+for\b))\s*/iu,
    );
  const items: Item[] = [];
  for (const clause of clauses) {
    const asked = INSTRUCTION.exec(clause);
    const demand = asked === null ? DEMAND.exec(clause) : null;
    const last = items.at(-1);
    // "… the propeller for nicks and the spinner for cracks": the second has no verb of its own.
    const second = last === undefined ? null : /^the\s+.+\s+for\b/i.exec(clause);
    const about = (asked?.[1] ?? demand?.[1] ?? second?.[0] ?? '').trim();
    // "… and check for water": the thing before is meant.
    if (about === '' || (last !== undefined && /^(?:check|inspect|examine) for\b/i.test(clause))) {
      if (last !== undefined)
        items[items.length - 1] = { ...last, action: `${last.action}, ${clause}` };
      continue;
    }
    const end = ENDS.exec(about);
    const comma = about.indexOf(',');
    const cut = Math.min(end?.index ?? about.length, comma < 0 ? about.length : comma);
    const phrase = about.slice(0, cut).trim();
    // "that it releases": the thing before is meant.
    if (/^(it|they|this|these|that|there|nothing|no)\b/i.test(phrase) || phrase === '') {
      if (last !== undefined)
        items[items.length - 1] = { ...last, action: `${last.action}, ${clause}` };
      continue;
    }
    const name = bare(phrase.replace(/^(its|their|each|any|every)\s+/i, ''));
    if (name.split(' ').length > 7 || name === '') continue;
    items.push({ name, action: clause, lines });
  }
  return items;
}

/** Whether a line reads as sentences that ask for something. */
export function isProse(text: string): boolean {
  const sentences = sentencesOf(text);
  return sentences.length > 1 && sentences.some((s) => sentenceItems(s, []).length > 0);
}
