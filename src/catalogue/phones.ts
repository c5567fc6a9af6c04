/**
 * The 39 phones of the CMU Pronouncing Dictionary (cmudict.phones), which the
 * embedded recogniser's model was trained on.
 */
const PHONES = new Set(
  (
    'AA AE AH AO AW AY B CH D DH EH ER EY F G HH IH IY JH K L M N NG OW OY P R S SH T TH UH UW V W ' +
    'Y Z ZH'
  ).split(' '),
);

/** Is it a phone, with or without the digit of its stress? */
export function isPhone(text: string): boolean {
  return PHONES.has(text.replace(/[012]$/, ''));
}
