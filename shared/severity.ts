import { z } from 'zod';

/**
 * How bad a finding is, worst first.
 *
 * - ground: not to fly until rectified
 * - defer: may fly within limits that an authorised person sets
 * - watch: look again every walk
 * - note: for information
 */
export const Severity = z.enum(['ground', 'defer', 'watch', 'note']);
export type Severity = z.infer<typeof Severity>;

/** Worst first, so that a smaller index is worse. */
export const SEVERITIES: readonly Severity[] = Severity.options;

/** The worse of two severities; null counts as "not said" and gives way. */
export function worse(a: Severity | null, b: Severity | null): Severity | null {
  if (a === null) return b;
  if (b === null) return a;
  return SEVERITIES.indexOf(a) <= SEVERITIES.indexOf(b) ? a : b;
}

/** Where a severity comes from, as it is printed behind it; nothing where an older record does not say. */
export const SEVERITY_FROM = {
  said: 'reporter’s severity',
  catalogue: 'proposed by the catalogue',
  before: 'as the reporter rated it before',
} as const;

/** "ground it, proposed by the catalogue". */
export function severityWords(
  severity: Severity,
  by: keyof typeof SEVERITY_FROM | null | undefined,
): string {
  const from = by === null || by === undefined ? '' : `, ${SEVERITY_FROM[by]}`;
  return `${SEVERITY_WORDS[severity]}${from}`;
}

/** Where the severity of a finding comes from, in the words of a squawk. */
export function severityFrom(
  by: 'said' | 'sign' | 'measure' | 'before' | 'none',
): keyof typeof SEVERITY_FROM {
  return by === 'said' || by === 'before' ? by : 'catalogue';
}

/** As spoken and printed. */
export const SEVERITY_WORDS: Readonly<Record<Severity, string>> = {
  ground: 'ground it',
  defer: 'defer it',
  watch: 'watch it',
  note: 'note it',
};
