/**
 * Letters to sound for words in no dictionary: ordered rules, longest context
 * first, our own. Good enough to recognise a name by ear, not to teach reading.
 *
 * A rule: letters, what must follow (a pattern) or null, the phones.
 */
type Rule = readonly [string, RegExp | null, string];
const V = '[aeiouy]';
const RULES: readonly Rule[] = [
  ['tion', null, 'SH AH N'],
  ['sion', null, 'ZH AH N'],
  ['cian', null, 'SH AH N'],
  ['ture', /^$/, 'CH ER'],
  ['sure', /^$/, 'ZH ER'],
  ['ough', null, 'AO'],
  ['augh', null, 'AO'],
  ['eigh', null, 'EY'],
  ['igh', null, 'AY'],
  ['tch', null, 'CH'],
  ['dge', null, 'JH'],
  ['sch', null, 'S K'],
  ['chr', null, 'K R'],
  ['que', /^$/, 'K'],
  ['gue', /^$/, 'G'],
  ['ear', /^[^aeiou]/, 'ER'],
  ['ear', null, 'IY R'],
  ['air', null, 'EH R'],
  ['are', /^$/, 'EH R'],
  ['ier', /^$/, 'IY ER'],
  ['eer', null, 'IY R'],
  ['oor', null, 'AO R'],
  ['our', null, 'AO R'],
  ['ure', /^$/, 'Y UH R'],
  ['ire', /^$/, 'AY ER'],
  ['yre', /^$/, 'AY ER'],
  ['ck', null, 'K'],
  ['ch', null, 'CH'],
  ['sh', null, 'SH'],
  ['th', null, 'TH'],
  ['ph', null, 'F'],
  ['wh', null, 'W'],
  ['gh', null, ''],
  ['kn', null, 'N'],
  ['wr', null, 'R'],
  ['ps', /^y/, 'S'],
  ['qu', null, 'K W'],
  ['ng', /^$/, 'NG'],
  ['ng', /^[^aeiouy]/, 'NG'],
  ['nk', null, 'NG K'],
  ['mb', /^$/, 'M'],
  ['gn', /^$/, 'N'],
  ['ss', null, 'S'],
  ['ll', null, 'L'],
  ['tt', null, 'T'],
  ['pp', null, 'P'],
  ['bb', null, 'B'],
  ['dd', null, 'D'],
  ['ff', null, 'F'],
  ['gg', null, 'G'],
  ['mm', null, 'M'],
  ['nn', null, 'N'],
  ['rr', null, 'R'],
  ['zz', null, 'Z'],
  ['cc', /^[eiy]/, 'K S'],
  ['cc', null, 'K'],
  ['ee', null, 'IY'],
  ['ea', null, 'IY'],
  ['oo', null, 'UW'],
  ['oa', null, 'OW'],
  ['ai', null, 'EY'],
  ['ay', null, 'EY'],
  ['ey', /^$/, 'IY'],
  ['ei', null, 'EY'],
  ['ie', /^$/, 'AY'],
  ['ie', null, 'IY'],
  ['oi', null, 'OY'],
  ['oy', null, 'OY'],
  ['ou', null, 'AW'],
  ['ow', /^$/, 'OW'],
  ['ow', null, 'AW'],
  ['au', null, 'AO'],
  ['aw', null, 'AO'],
  ['ew', null, 'UW'],
  ['ue', /^$/, 'UW'],
  ['ui', null, 'UW'],
  ['eu', null, 'UW'],
  ['ar', null, 'AA R'],
  ['er', null, 'ER'],
  ['ir', null, 'ER'],
  ['or', null, 'AO R'],
  ['ur', null, 'ER'],
  ['a', new RegExp(`^[^aeiouywx]e$`), 'EY'],
  ['e', new RegExp(`^[^aeiouywx]e$`), 'IY'],
  ['i', new RegExp(`^[^aeiouywx]e$`), 'AY'],
  ['o', new RegExp(`^[^aeiouywx]e$`), 'OW'],
  ['u', new RegExp(`^[^aeiouywx]e$`), 'UW'],
  ['y', new RegExp(`^[^aeiouywx]e$`), 'AY'],
  ['a', /^[^aeiouywx]e[sd]?$/, 'EY'],
  ['i', /^[^aeiouywx]e[sdr]?$/, 'AY'],
  ['o', /^[^aeiouywx]e[sd]?$/, 'OW'],
  ['a', /^[^aeiouywx]ing$/, 'EY'],
  ['i', /^[^aeiouywx]ing$/, 'AY'],
  ['e', /^$/, ''],
  ['es', /^$/, 'Z'],
  ['ed', /^$/, 'D'],
  ['y', /^$/, 'IY'],
  ['y', new RegExp(`^${V}`), 'Y'],
  ['y', null, 'IH'],
  ['c', /^[eiy]/, 'S'],
  ['c', null, 'K'],
  ['g', /^[eiy]/, 'JH'],
  ['g', null, 'G'],
  ['x', null, 'K S'],
  ['j', null, 'JH'],
  ['q', null, 'K'],
  ['a', /^$/, 'AH'],
  ['a', null, 'AE'],
  ['e', null, 'EH'],
  ['i', null, 'IH'],
  ['o', /^$/, 'OW'],
  ['o', null, 'AA'],
  ['u', null, 'AH'],
  ['b', null, 'B'],
  ['d', null, 'D'],
  ['f', null, 'F'],
  ['h', null, 'HH'],
  ['k', null, 'K'],
  ['l', null, 'L'],
  ['m', null, 'M'],
  ['n', null, 'N'],
  ['p', null, 'P'],
  ['r', null, 'R'],
  ['s', null, 'S'],
  ['t', null, 'T'],
  ['v', null, 'V'],
  ['w', null, 'W'],
  ['z', null, 'Z'],
];
const LETTER_NAMES: Readonly<Record<string, string>> = {
  a: 'EY',
  b: 'B IY',
  c: 'S IY',
  d: 'D IY',
  e: 'IY',
  f: 'EH F',
  g: 'JH IY',
  h: 'EY CH',
  i: 'AY',
  j: 'JH EY',
  k: 'K EY',
  l: 'EH L',
  m: 'EH M',
  n: 'EH N',
  o: 'OW',
  p: 'P IY',
  q: 'K Y UW',
  r: 'AA R',
  s: 'EH S',
  t: 'T IY',
  u: 'Y UW',
  v: 'V IY',
  w: 'D AH B AH L Y UW',
  x: 'EH K S',
  y: 'W AY',
  z: 'Z IY',
};
const DIGIT_NAMES = [
  'Z IH R OW',
  'W AH N',
  'T UW',
  'TH R IY',
  'F AO R',
  'F AY V',
  'S IH K S',
  'S EH V AH N',
  'EY T',
  'N AY N',
];

/** Phones of a word by its spelling. Words without a vowel are spelt out. */
export function spellOut(word: string): string[] {
  const letters = word
    .toLowerCase()
    .normalize('NFD')
    .replace(/[^a-z0-9]/g, '');
  const out: string[] = [];
  if (/^\d+$/.test(letters))
    return [...letters].flatMap((d) => (DIGIT_NAMES[Number(d)] ?? '').split(' '));
  if (letters.length <= 4 && !/[aeiouy]/.test(letters)) {
    return [...letters]
      .flatMap((c) => (LETTER_NAMES[c] ?? DIGIT_NAMES[Number(c)] ?? '').split(' '))
      .filter((p) => p !== '');
  }
  for (let i = 0; i < letters.length;) {
    const rest = letters.slice(i);
    const rule = RULES.find(
      ([from, after]) =>
        rest.startsWith(from) && (after === null || after.test(rest.slice(from.length))),
    );
    if (rule === undefined) {
      const digit = DIGIT_NAMES[Number(letters[i])];
      if (digit !== undefined) out.push(...digit.split(' '));
      i += 1;
      continue;
    }
    if (rule[2] !== '') out.push(...rule[2].split(' '));
    i += rule[0].length;
  }
  return out;
}
