import type { Role, Terms } from '#shared/school';

export const ROLE_WORDS: Readonly<Record<Role, string>> = {
  pilot: 'pilot',
  instructor: 'instructor',
  maintenance: 'maintenance',
  chief: 'chief',
};

export const ROLES = ['pilot', 'instructor', 'maintenance', 'chief'] as const;

/** What the school keeps, one sentence each, as it is read before joining. */
export function termsInWords(terms: Terms): readonly string[] {
  if (!terms.sound)
    return [
      'The school keeps the words of your walks and no sound. The sound stays on this phone.',
      WORDS_STAY,
    ];
  const hears = terms.hear.map((who) =>
    who === 'instructor' ? 'your instructor' : 'the chief of the school',
  );
  return [
    'The school keeps the words and the sound of your walks.',
    terms.days === null
      ? 'The sound is kept until somebody has it erased.'
      : `The sound is erased everywhere after ${terms.days} days.`,
    hears.length === 0
      ? 'Nobody but you may hear it.'
      : `Besides you, ${hears.join(' and ')} may hear it.`,
    'You can have your sound erased at any time: from the server and from every device.',
    WORDS_STAY,
  ];
}

const WORDS_STAY =
  'Your instructor reads the words of your walks. The words stay in the record of the aircraft.';
