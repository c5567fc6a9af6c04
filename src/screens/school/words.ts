import type { Role, Terms } from '#shared/school';
import type { Text } from '../text/text.ts';

export const ROLES = ['pilot', 'instructor', 'maintenance', 'chief'] as const;

/** "pilot, instructor"; empty where nobody gave one. */
export function rolesInWords(roles: readonly Role[], t: Text): string {
  return roles.map((r) => t(`role-${r}`)).join(', ');
}

/** What the school keeps, one sentence each, as it is read before joining. */
export function termsInWords(terms: Terms, t: Text): readonly string[] {
  const pictures = [
    t('terms-pictures'),
    terms.days === null
      ? t('terms-pictures-until-asked')
      : t('terms-pictures-erased', { n: terms.days }),
  ];
  if (!terms.sound) return [t('terms-words-only'), ...pictures, t('terms-stay')];
  return [
    t('terms-keeps'),
    terms.days === null ? t('terms-until-asked') : t('terms-erased', { n: terms.days }),
    t(whoHears(terms.hear)),
    ...pictures,
    t('terms-erase'),
    t('terms-stay'),
  ];
}

function whoHears(hear: Terms['hear']): string {
  const [instructor, chief] = [hear.includes('instructor'), hear.includes('chief')];
  if (instructor && chief) return 'terms-both-hear';
  if (instructor) return 'terms-instructor-hears';
  return chief ? 'terms-chief-hears' : 'terms-nobody';
}
