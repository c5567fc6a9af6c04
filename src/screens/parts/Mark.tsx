import type { Standing } from '#shared/coverage';
import type { Severity } from '#shared/severity';
import { useText } from '../text/text.ts';

/**
 * Standings and findings by shape: a disc filled as far as the check was
 * spoken for, a diamond for a question, a cross for a skipped one, a bar for
 * one that was set aside, a triangle for a finding. Colour only repeats it.
 */
export type Shape = Standing | 'finding';

export function Mark({
  of,
  severity,
  label,
}: {
  of: Shape;
  severity?: Severity | null;
  label?: string;
}) {
  const t = useText();
  const name = label ?? t(of === 'finding' ? 'shape-finding' : `standing-${of}`);
  return (
    <svg
      className={`mark is-${of}${of === 'finding' && severity !== undefined ? ` sev-${severity ?? 'unrated'}` : ''}`}
      viewBox="0 0 20 20"
      {...(label === '' ? { 'aria-hidden': true } : { role: 'img', 'aria-label': name })}
    >
      <MarkShape of={of} />
    </svg>
  );
}

/** The shape alone, in a box of 20 by 20, for use inside another drawing. */
export function MarkShape({ of }: { of: Shape }) {
  switch (of) {
    case 'spoken':
      return <circle className="full" cx="10" cy="10" r="8" />;
    case 'part':
      return (
        <>
          <circle className="ring" cx="10" cy="10" r="7" />
          <path className="full" d="M10 3a7 7 0 0 0 0 14z" />
        </>
      );
    case 'question':
      return (
        <>
          <path className="diamond" d="M10 .8 19.2 10 10 19.2.8 10z" />
          <path
            className="ask"
            d="M7.6 8a2.4 2.4 0 1 1 3.6 2.100q-1.2.7-1.2 1.900v.3M10 14.200v.3"
          />
        </>
      );
    case 'unspoken':
      return <circle className="ring" cx="10" cy="10" r="7" />;
    case 'skipped':
      return (
        <>
          <rect className="gap" x="1" y="1" width="18" height="18" />
          <path className="cross" d="M5.5 5.500l9 9M14.5 5.500l-9 9" />
        </>
      );
    case 'set-aside':
      return <path className="bar" d="M3 10h14" />;
    case 'finding':
      return (
        <>
          <path className="tri" d="M10 1.5 19.2 18H.8z" />
          <path className="call" d="M10 7.500v5M10 15v.5" />
        </>
      );
  }
}
