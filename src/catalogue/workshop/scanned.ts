import { TRADE } from './trade.ts';

/** Signs that a scanner confuses with letters, likeliest letter first. */
const LOOKS: Readonly<Record<string, readonly string[]>> = {
  '0': ['o'],
  '1': ['i', 'l'],
  '|': ['i', 'l'],
  '5': ['s'],
  '8': ['b'],
};
/** Letters that it confuses with each other: tried only in a word that is damaged anyhow. */
const CLOSE: Readonly<Record<string, string>> = { t: 'f', f: 't', c: 'e', e: 'c', n: 'h', h: 'n' };
/** More than this many damaged signs in one word is no word. */
const MOST_DAMAGE = 4;

/** A number with its unit written close to it, an ordinal, or an enumerator: not damaged. */
const MEANT = /^\d+([.,]\d+)?(v|l|mm|cm|m|qts?|in|psi|bar|kg|lbs?|c|f|st|nd|rd|th|x|a|b|h|s)?$/i;
/** "2.4", "lO", "l2": a number in which letters were seen. */
const NUMBER = /^[\dlIO|]+([.,][\dlIO|]+)?[.):]?$/;

/** Mends what a scanner did to words and numbers. What is not damaged is given back as it was. */
export function unscanned(line: string): string {
  return line.replace(/[^\s,;:()[\]]+/g, (token, at: number) => {
    // A Roman number counts stations, and has to stay one.
    if (!/[\d|lIO]/.test(token) || /^[IVX]+[.)]?$/.test(token)) return token;
    const first = line.slice(0, at).trim() === '';
    if (NUMBER.test(token) && (/\d/.test(token) || (first && /[.)]$/.test(token)))) {
      return /[lIO|]/.test(token) ? token.replace(/[lI|]/g, '1').replaceAll('O', '0') : token;
    }
    if (MEANT.test(token) || !/[a-z]/i.test(token) || !/[01|58]/.test(token)) return token;
    return word(token);
  });
}

function word(token: string): string {
  const [, before = '', body = '', after = ''] = /^([^\w|]*)([\w|-]+?)([^\w|]*)$/.exec(token) ?? [];
  const letters = body.replace(/[^a-z]/gi, '');
  const damaged = [...body].filter((c) => c in LOOKS).length;
  if (letters === '' || damaged === 0 || damaged > MOST_DAMAGE) return token;
  // "A1", "B5": a letter with a number is a name; "1N" is a unit.
  if (letters.length < 2 && !/^1n$/i.test(body)) return token;
  // A part number has digits in a row.
  if (/\d{2,}/.test(body)) return token;
  const tries = spellings(body.toLowerCase());
  const known = tries.find((t) => TRADE.has(t)) ?? near(tries);
  // "5" and "8" are letters only in a word that is known: "B5 panel" may be a name.
  if (known === undefined && /[58]/.test(body)) return token;
  const mended = known ?? tries[0] ?? body;
  const cased =
    letters === letters.toUpperCase()
      ? mended.toUpperCase()
      : /^[A-Z0|1]/.test(body) && (/^[A-Z]/.test(body) || /^[0|1]/.test(body))
        ? mended.charAt(0).toUpperCase() + mended.slice(1)
        : mended;
  return `${before}${cased}${after}`;
}

/** Every word that it may have been. */
function spellings(body: string): string[] {
  return [...body].reduce<string[]>(
    (all, c) => all.flatMap((head) => (LOOKS[c] ?? [c]).map((letter) => head + letter)),
    [''],
  );
}

function near(tries: readonly string[]): string | undefined {
  for (const t of tries) {
    for (let i = 0; i < t.length; i += 1) {
      const other = CLOSE[t[i] ?? ''];
      if (other === undefined) continue;
      const changed = t.slice(0, i) + other + t.slice(i + 1);
      if (TRADE.has(changed)) return changed;
    }
  }
  return undefined;
}
