import type { Role } from '#shared/school';

/** Who asks, as the school knows them. */
export interface Caller {
  readonly school: string;
  readonly device: string;
  readonly publicKey: string;
  readonly desk: boolean;
  /** Who holds it; null: a phone that the pilots share. */
  readonly person: string | null;
  readonly personName: string | null;
  readonly roles: ReadonlySet<Role>;
  /** Where its log stands. */
  readonly walk: string | null;
  readonly editions: readonly string[];
}

/** What has to be known of an event to say whether its writer may have written it. */
export interface Writing {
  readonly kind: string;
  /** Step of a squawk. */
  readonly step: string | null;
  /** The walk that it is said of: whether its writer made it, and whether they may open it. Null: outside walks. */
  readonly walk: { readonly own: boolean; readonly open: boolean } | null;
  /** For an erasure: the sound or the picture is their own. */
  readonly ownSound: boolean;
}

/**
 * Null when the writer's role allows it, else one sentence. What is not allowed is
 * kept word for word, because the chain goes through it, and given to nobody.
 */
export function mayWrite(caller: Pick<Caller, 'roles'>, event: Writing): string | null {
  const is = (role: Role) => caller.roles.has(role);
  switch (event.kind) {
    case 'reviewed':
    case 'amendment':
      if (event.walk?.own === true && event.kind === 'amendment') return null;
      return is('instructor') && event.walk?.open === true
        ? null
        : 'Only an instructor reviews a walk, and only one of their students.';
    case 'sound-erased':
      return event.ownSound || is('chief')
        ? null
        : 'Only the person whose sound it is and the chief have it erased.';
    case 'picture-erased':
      return event.ownSound || is('chief')
        ? null
        : 'Only whoever took a picture and the chief have it erased.';
    case 'squawk':
      if (event.walk !== null) return flies(is);
      if (event.step === 'rectified')
        return is('maintenance') || is('chief')
          ? null
          : 'Only maintenance says that a squawk is rectified.';
      if (event.step === 'deferred')
        return is('maintenance') || is('chief') || is('instructor')
          ? null
          : 'Only maintenance, an instructor or the chief defers a squawk.';
      return null;
    case 'sealed':
    case 'brought-back':
      return null;
    default:
      return event.walk === null ? null : flies(is);
  }
}

function flies(is: (role: Role) => boolean): string | null {
  return is('pilot') || is('instructor') ? null : 'Only a pilot or an instructor walks.';
}
