import { MAX_CHARACTERS, MAX_DEPTH, MAX_INDENT } from './limits.ts';
import type { Found } from './problem.ts';

/**
 * What can be said about a text before it is parsed. The YAML library recurses
 * with depth and can end the process, so depth is refused here, by a scan that
 * reads every character once.
 *
 * Returns the offset of the trouble with its sentence, or null.
 */
export function tooMuch(text: string): { offset: number; text: string } | null {
  if (text.length > MAX_CHARACTERS) {
    return {
      offset: 0,
      text: `The file has ${text.length} characters; a catalogue may have at most ${MAX_CHARACTERS}.`,
    };
  }
  const deep = depthOver(text);
  return deep === null
    ? null
    : {
        offset: deep,
        text: `Nested too deep here; a catalogue needs at most ${MAX_DEPTH} levels.`,
      };
}

/** Markers that open a level on the same line: "- - - x", "? ? x", "[[[", "{a: {". */
const OPENS = new Set(['[', '{']);
const CLOSES = new Set([']', '}']);

function depthOver(text: string): number | null {
  let brackets = 0;
  let lead = 0;
  let inLead = true;
  let marks = 0;
  for (let i = 0; i < text.length; i += 1) {
    const c = text[i] ?? '';
    if (c === '\n') {
      inLead = true;
      lead = 0;
      marks = 0;
      continue;
    }
    if (inLead) {
      if (c === ' ') lead += 1;
      else if ((c === '-' || c === '?' || c === ':') && /[ \t]/.test(text[i + 1] ?? ' '))
        marks += 1;
      else if (c !== '\t') inLead = false;
      if (lead > MAX_INDENT || marks > MAX_DEPTH) return i;
    }
    // Brackets inside quotes and comments are counted too: harmless, they are closed or few.
    if (OPENS.has(c)) {
      brackets += 1;
      if (brackets > MAX_DEPTH) return i;
    } else if (CLOSES.has(c)) brackets = Math.max(0, brackets - 1);
  }
  return null;
}

/** Names that reach into every object of the language: never a field, never a word. */
const RESERVED = new Set(['__proto__', 'constructor', 'prototype']);

/** The sentence for a key that may not be used, or null. */
export function reservedKey(key: string, path: Found['path']): Found | null {
  return RESERVED.has(key)
    ? { path, key, text: `"${key}" is not a name a catalogue may use here; choose another word.` }
    : null;
}
