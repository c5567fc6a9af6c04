/** Makes hostile input out of honest input. Everything follows from the numbers it is given. */

/** What has broken parsers before: markers of the formats, prototypes, odd text, odd numbers. */
const TOKENS = [
  '__proto__',
  'constructor',
  '\u0000',
  '\ud800',
  '\ufeff',
  '\u202e',
  '\r',
  '\n\n\n',
  '-->',
  '00:00:00.000 --> 99:99:99.999',
  '99999999999999999999:59:59,999',
  '&a [*a, *a]',
  '*a',
  '<<: *a',
  '!!js/function',
  '[[[[[[[[[[[[[[[[',
  '{{{{{{{{{{{{{{{{',
  '"',
  "'",
  '\\',
  '|',
  '- - - - - - - -',
  '? ',
  '%YAML 9.9',
  '1e999',
  '-0',
  '.nan',
  '9007199254740993',
  'null',
  '~',
  '=cmd|calc',
  'PK\u0001\u0002',
  'PK\u0005\u0006',
  'RIFF',
  'data\u00ff\u00ff\u00ff\u00ff',
  'fmt \u0000\u0000\u0000\u0000',
  '"v":99',
  '"prev":null',
  'aaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaa!',
  '((((((((((a)*)*)*)*)*)*)*)*)*)*',
  'no no no no no no no no no no no no',
  'one hundred million thousand hundred point point minus',
].map((text) => Buffer.from(text, 'utf8'));

/** Mutations are few, so that most of the input stays what the parser expects. */
const MOST_MUTATIONS = 6;

/** A changed copy of `base`; at times with a piece of `other` in it. */
export function mutate(base: Uint8Array, other: Uint8Array, random: () => number): Uint8Array {
  const below = (n: number) => Math.floor(random() * n);
  if (random() < 0.03) return Uint8Array.from({ length: below(400) }, () => below(256));
  let bytes = Buffer.from(base);
  const times = 1 + below(MOST_MUTATIONS);
  for (let n = 0; n < times; n += 1) {
    const at = below(bytes.length + 1);
    const length = below(random() < 0.2 ? bytes.length + 1 : 24);
    const before = bytes.subarray(0, at);
    const after = bytes.subarray(at);
    const rest = bytes.subarray(Math.min(bytes.length, at + length));
    switch (below(8)) {
      case 0: // one bit
        if (at < bytes.length) bytes[at] = (bytes[at] ?? 0) ^ (1 << below(8));
        break;
      case 1: // one byte
        if (at < bytes.length) bytes[at] = below(256);
        break;
      case 2: // a piece left out
        bytes = Buffer.concat([before, rest]);
        break;
      case 3: // a piece twice
        bytes = Buffer.concat([before, bytes.subarray(at, at + length), after]);
        break;
      case 4: // something known to hurt
        bytes = Buffer.concat([before, TOKENS[below(TOKENS.length)] ?? before, after]);
        break;
      case 5: {
        // something known to hurt, many times
        const token = TOKENS[below(TOKENS.length)] ?? before;
        const many = Array.from({ length: 1 + below(200) }, () => token);
        bytes = Buffer.concat([before, ...many, after]);
        break;
      }
      case 6: {
        // a piece of another sample
        const from = below(other.length + 1);
        bytes = Buffer.concat([before, other.subarray(from, from + below(400)), after]);
        break;
      }
      default: // cut off
        if (random() < 0.4) bytes = Buffer.from(before);
    }
  }
  return new Uint8Array(bytes);
}
