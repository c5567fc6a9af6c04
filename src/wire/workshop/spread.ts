/** Cost of a sound that is there and was not expected, or the other way round. */
const LOST = 1;
/** Cost of one vowel for another, or one consonant for another: nearer than a sound too many and one too few. */
const KIN = 0.8;
/** Of a vowel for a consonant: hardly ever the same sound. */
const STRANGE = 1.8;

/**
 * The sounds that were heard, shared out among the words of a name by how each
 * is expected to sound: the cheapest way of making one row into the other. A
 * sound that nothing was expected for goes with the word before it.
 */
export function spread(
  expected: readonly (readonly string[])[],
  heard: readonly string[],
): readonly (readonly string[])[] {
  const row = expected.flatMap((phones, word) => phones.map((phone) => ({ phone, word })));
  const cost = costs(
    row.map((r) => r.phone),
    heard,
  );
  const at = (i: number, j: number) => cost[i]?.[j] ?? Infinity;
  const out: string[][] = expected.map(() => []);
  let i = row.length;
  let j = heard.length;
  while (j > 0) {
    const sound = heard[j - 1] ?? '';
    const own = row[i - 1];
    if (own !== undefined && at(i, j) === at(i - 1, j - 1) + swap(own.phone, sound)) {
      out[own.word]?.unshift(sound);
      i -= 1;
      j -= 1;
    } else if (own !== undefined && at(i, j) === at(i - 1, j) + LOST) i -= 1;
    else {
      out[own?.word ?? 0]?.unshift(sound);
      j -= 1;
    }
  }
  return out;
}

function costs(row: readonly string[], heard: readonly string[]): readonly (readonly number[])[] {
  const table: number[][] = [Array.from({ length: heard.length + 1 }, (_, j) => j * LOST)];
  row.forEach((phone, i) => {
    const above = table[i] ?? [];
    const line = [(i + 1) * LOST];
    heard.forEach((sound, j) => {
      line.push(
        Math.min(
          (above[j] ?? Infinity) + swap(phone, sound),
          (above[j + 1] ?? Infinity) + LOST,
          (line[j] ?? Infinity) + LOST,
        ),
      );
    });
    table.push(line);
  });
  return table;
}

function swap(a: string, b: string): number {
  if (a === b) return 0;
  return isVowel(a) === isVowel(b) ? KIN : STRANGE;
}

/** In ARPABET the vowels begin with a vowel's letter. */
function isVowel(phone: string): boolean {
  return /^[AEIOU]/.test(phone);
}
