import type { DeviceLine, Role, Terms } from '#shared/school';
import type { Text } from '../text/text.ts';

export const ROLES = ['pilot', 'instructor', 'maintenance', 'chief'] as const;

/** "pilot, instructor"; empty where nobody gave one. */
export function rolesInWords(roles: readonly Role[], t: Text): string {
  return roles.map((r) => t(`role-${r}`)).join(', ');
}

/** Who gets what was learned: as the chief chooses it, and as it is read before joining. */
export const PASSED_ON = {
  none: 'terms-phrases-none',
  own: 'terms-phrases-own',
  aircraft: 'terms-phrases-aircraft',
} as const;
const PASSED_ON_TOLD = {
  none: 'terms-phrases-none-told',
  own: 'terms-phrases-own-told',
  aircraft: 'terms-phrases-aircraft-told',
} as const;

/** What the school keeps, one sentence each, as it is read before joining. */
export function termsInWords(terms: Terms, t: Text): readonly string[] {
  const pictures = [
    t('terms-pictures'),
    terms.days === null
      ? t('terms-pictures-until-asked')
      : t('terms-pictures-erased', { n: terms.days }),
  ];
  const learned = t(PASSED_ON_TOLD[terms.phrases]);
  if (!terms.sound) return [t('terms-words-only'), ...pictures, t('terms-stay'), learned];
  return [
    t('terms-keeps'),
    terms.days === null ? t('terms-until-asked') : t('terms-erased', { n: terms.days }),
    t(whoHears(terms.hear)),
    ...pictures,
    t('terms-erase'),
    t('terms-stay'),
    learned,
  ];
}

/** "Hangar phone has edition 3 of …, edition 4 is waiting". */
export function editionInWords(
  device: string,
  { name: catalogue, has, waiting }: DeviceLine['editions'][number],
  t: Text,
): string {
  const now =
    has === null
      ? t('phones-has-none', { device, catalogue })
      : t('phones-has', { device, n: has, catalogue });
  return waiting === null ? now : t('phones-waiting', { has: now, n: waiting });
}

function whoHears(hear: Terms['hear']): string {
  const [instructor, chief] = [hear.includes('instructor'), hear.includes('chief')];
  if (instructor && chief) return 'terms-both-hear';
  if (instructor) return 'terms-instructor-hears';
  return chief ? 'terms-chief-hears' : 'terms-nobody';
}
