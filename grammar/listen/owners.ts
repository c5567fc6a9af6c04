/** Sounds after which an owner's "s" is a syllable of its own: "switch's". */
const HISSING = /^(S|Z|SH|ZH|CH|JH)$/;
/** Sounds after which it is voiceless: "belt's". */
const VOICELESS = /^(P|T|K|F|TH)$/;

/**
 * Sounds of an owner ("gauge's") from those of its word: dictionaries seldom have
 * owners, and spelled out "gauge's" rhymes with "gorge's". Null where the word is no owner.
 */
export function ownerSounds(
  word: string,
  of: (word: string) => readonly string[],
): readonly string[] | null {
  const owner = /^(.+)'s$/.exec(word)?.[1];
  if (owner === undefined) return null;
  const phones = of(owner);
  const last = phones.at(-1);
  if (last === undefined) return null;
  if (HISSING.test(last)) return [...phones, 'IH', 'Z'];
  return [...phones, VOICELESS.test(last) ? 'S' : 'Z'];
}
