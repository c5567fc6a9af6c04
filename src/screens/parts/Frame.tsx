import type { ReactNode } from 'react';
import { Link, useLocation } from 'wouter';
import { useHouse } from './house.ts';
import type { SchoolView } from '../services.ts';
import { useText } from '../text/text.ts';
import { never, useLive } from './live.ts';

const PLACES = [
  { to: '/walks', name: 'place-walks' },
  { to: '/squawks', name: 'place-squawks' },
  { to: '/workshop', name: 'place-catalogues' },
  { to: '/settings', name: 'place-settings' },
];

/** The frame of every screen but the walk: where one is, and the way elsewhere. */
export function Frame({ children }: { children: ReactNode }) {
  const [at] = useLocation();
  const house = useHouse();
  const walking = useLive(house.walk) !== null;
  const school = useLive<SchoolView | null>(house.school?.view ?? never)?.hello ?? null;
  const places = school === null ? PLACES : [...PLACES, { to: '/school', name: 'place-school' }];
  const t = useText();
  return (
    <div className="page">
      <header className="top noprint">
        {walking ? (
          <Link className="name" href="/walk">
            <Sigil />
            {t('to-the-walk')}
          </Link>
        ) : (
          <Link className="name" href="/" aria-label={t('home')}>
            <Sigil />
            Talkround
          </Link>
        )}
        <nav aria-label={t('places')}>
          {places.map((p) => (
            <Link key={p.to} href={p.to} aria-current={at.startsWith(p.to) ? 'page' : undefined}>
              {t(p.name)}
            </Link>
          ))}
        </nav>
      </header>
      <main className="sheet-of">{children}</main>
    </div>
  );
}

/** Our sign: a walk round a machine, one piece of it still open. */
export function Sigil() {
  return (
    <svg viewBox="0 0 32 32" aria-hidden="true">
      <path
        fill="none"
        stroke="var(--course)"
        strokeWidth="4.5"
        d="M20.6 4.900A12 12 0 1 1 11.4 4.9"
      />
      <path
        fill="currentColor"
        d="M16 8l2.2 5.500v2.500l6 2v2l-6-.8-.8 3.8 2 1.500v1.300h-6.800v-1.300l2-1.5-.8-3.8-6 .8v-2l6-2v-2.500z"
      />
    </svg>
  );
}

export function Waiting({ what }: { what: string }) {
  return (
    <p className="quiet" role="status">
      {what}
    </p>
  );
}
