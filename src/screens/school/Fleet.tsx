import { useEffect, useState } from 'react';
import { Link } from 'wouter';
import { useHouse } from '../parts/house.ts';
import { useLive } from '../parts/live.ts';
import { dateTime } from '../parts/words.ts';
import type { SchoolView, SquawkBook } from '../services.ts';
import { useText, type Text } from '../text/text.ts';

/** Days before a deferral's last day from which it is shown as running out. */
const SOON_DAYS = 7;
const DAY = 86_400_000;

/** Each aircraft: its last walk, open squawks, deferrals that run out, values that near their limit. */
export function Fleet({ view }: { view: SchoolView }) {
  const house = useHouse();
  const t = useText();
  const { aircraft } = useLive(house.choices);
  const walks = useLive(house.walks);
  const [books, setBooks] = useState<ReadonlyMap<string, SquawkBook>>(new Map());
  const names = aircraft.map((a) => a.aircraft).join('\n');
  useEffect(() => {
    let gone = false;
    void Promise.all(
      names
        .split('\n')
        .filter((name) => name !== '')
        .map(async (name) => [name, await house.squawkBook(name)] as const),
    ).then((all) => {
      if (gone) return;
      setBooks(new Map(all.flatMap(([name, book]) => (book.ok ? [[name, book.value]] : []))));
    });
    return () => {
      gone = true;
    };
  }, [house, names, view.news]);
  if (aircraft.length === 0) return null;
  return (
    <section aria-label={t('fleet')}>
      <h2>{t('fleet')}</h2>
      <ul className="lines fleet">
        {aircraft.map(({ aircraft: name, openSquawks }) => {
          const last = walks.find((w) => w.aircraft === name);
          return (
            <li key={name}>
              <strong>{name}</strong>
              <span>
                {last === undefined
                  ? t('fleet-no-walk')
                  : t('fleet-last', { when: dateTime(last.begun) })}
              </span>
              <span>
                {openSquawks.length === 0
                  ? t('fleet-no-squawk')
                  : t('fleet-squawks', {
                      open: t('open-squawks', { n: openSquawks.length }),
                      titles: openSquawks.join('; '),
                    })}
              </span>
              {warnings(books.get(name), t).map((sentence) => (
                <span key={sentence} className="warned">
                  {sentence}
                </span>
              ))}
              <Link className="press" href={`/squawks/${encodeURIComponent(name)}`}>
                {t('place-squawks')}
              </Link>
            </li>
          );
        })}
      </ul>
    </section>
  );
}

function warnings(book: SquawkBook | undefined, t: Text): readonly string[] {
  if (book === undefined) return [];
  const deferrals = book.squawks.flatMap((s) => {
    if (s.overdue !== null) return [t.said(s.overdue)];
    if (s.squawk.state !== 'deferred') return [];
    const step = s.squawk.history.findLast((h) => h.step.step === 'deferred')?.step;
    const until = step?.step === 'deferred' ? step.untilDate : null;
    if (until === null) return [];
    const days = Math.ceil((Date.parse(until) - Date.now()) / DAY);
    return days <= SOON_DAYS ? [t('fleet-deferred', { title: s.title, day: until })] : [];
  });
  const values = book.trends
    .filter((trend) => trend.reaches !== null)
    .map(({ name, text }) => t('fleet-value', { name, text: t.said(text) }));
  return [...new Set([...deferrals, ...values])];
}
