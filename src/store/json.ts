import type { Read } from '#shared/format';
import { inWords, MAX_DEPTH } from './limits.ts';

/**
 * Parses JSON that somebody else wrote. Refused in words: too long, nested too
 * deep, not JSON, and the key "__proto__", with which an object pretends to
 * have another's fields.
 *
 * @param limit in characters
 */
export function readJson(text: string, limit: number): Read<unknown> {
  if (text.length > limit)
    return { ok: false, error: `It is longer than ${inWords(limit)}, which is the limit.` };
  if (deeperThan(text, MAX_DEPTH))
    return {
      ok: false,
      error: `It is nested deeper than ${MAX_DEPTH} levels, which is the limit.`,
    };
  let forged = false;
  try {
    const value: unknown = JSON.parse(text, (key, inner: unknown) => {
      if (key === '__proto__') forged = true;
      return inner;
    });
    if (forged) return { ok: false, error: 'It has a key "__proto__", which is not allowed.' };
    return { ok: true, value };
  } catch {
    return { ok: false, error: 'It is not JSON.' };
  }
}

/** Counts brackets outside of strings; no recursion, so nothing can be nested too deep for it. */
function deeperThan(text: string, limit: number): boolean {
  let depth = 0;
  let quoted = false;
  for (let i = 0; i < text.length; i += 1) {
    const c = text.charCodeAt(i);
    if (quoted) {
      if (c === 92 /* \ */) i += 1;
      else if (c === 34 /* " */) quoted = false;
    } else if (c === 34) quoted = true;
    else if (c === 91 /* [ */ || c === 123 /* { */) {
      depth += 1;
      if (depth > limit) return true;
    } else if (c === 93 /* ] */ || c === 125 /* } */) depth -= 1;
  }
  return false;
}
