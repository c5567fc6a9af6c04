/** How the figures of a date stand that can be read both ways. */
export type DayOrder = 'day-first' | 'month-first';

export type DayRead =
  | { readonly kind: 'day'; readonly day: string }
  /** "03/04/2026": two days fit, and neither is guessed. */
  | { readonly kind: 'either'; readonly dayFirst: string; readonly monthFirst: string }
  | { readonly kind: 'none' };

const MONTHS = 'jan feb mar apr may jun jul aug sep oct nov dec'.split(' ');
/** As spreadsheets in German write them. */
const OTHERS: Readonly<Record<string, number>> = { mär: 3, mrz: 3, mai: 5, okt: 10, dez: 12 };

const NONE: DayRead = { kind: 'none' };

/**
 * A day as a spreadsheet writes it: 2026-01-31, 31.01.2026, 1/31/2026, 31-Jan-26.
 * Figures between dots are day first: no locale that Unicode CLDR knows writes
 * the month first with dots (from memory). Others are read where only one day
 * fits, and asked about where two do, unless the order is told.
 */
export function dayIn(text: string, order: DayOrder | null): DayRead {
  const plain = text
    .trim()
    .replace(/[\u200E\u200F\u00A0]/g, ' ')
    // A time behind it, as some spreadsheets add: midnight says nothing.
    .replace(/[T ]+\d{1,2}:\d{2}(?::\d{2})?(?:\s*[ap]\.?m\.?)?$/i, '');
  // Short figures between hyphens may be a date that was cut.
  const iso =
    /^(\d{4})-(\d{2})-(\d{2})$/.exec(plain) ?? /^(\d{4})[/.](\d{1,2})[/.](\d{1,2})$/.exec(plain);
  if (iso !== null) return dayOf(iso[1], iso[2], iso[3]);
  const named = /^(\d{1,2})\.?[-\s/]*([a-zä]{3,9})\.?[-,\s/]*(\d{4}|\d{2})$/i.exec(plain);
  if (named !== null) return dayOf(named[3], monthNamed(named[2]), named[1]);
  const american = /^([a-z]{3,9})\.?\s+(\d{1,2}),?\s+(\d{4}|\d{2})$/i.exec(plain);
  if (american !== null) return dayOf(american[3], monthNamed(american[1]), american[2]);
  const figures = /^(\d{1,2})([./-])\s*(\d{1,2})\2\s*(\d{4}|\d{2})$/.exec(plain);
  if (figures === null) return NONE;
  const [, one, sign, two, year] = figures;
  const dayFirst = dayOf(year, two, one);
  const monthFirst = dayOf(year, one, two);
  if (sign === '.') return dayFirst;
  if (dayFirst.kind !== 'day') return monthFirst;
  if (monthFirst.kind !== 'day' || monthFirst.day === dayFirst.day) return dayFirst;
  if (order !== null) return order === 'day-first' ? dayFirst : monthFirst;
  return { kind: 'either', dayFirst: dayFirst.day, monthFirst: monthFirst.day };
}

function monthNamed(name = ''): string {
  const short = name.toLowerCase().slice(0, 3);
  return String(OTHERS[short] ?? MONTHS.indexOf(short) + 1);
}

/** A day that there is: the engine takes 31 February for a day in March. Years of two figures are of this century. */
function dayOf(year = '', month = '', day = ''): DayRead {
  const full = year.length === 2 ? `20${year}` : year;
  const text = `${full}-${month.padStart(2, '0')}-${day.padStart(2, '0')}`;
  const at = Date.parse(`${text}T00:00:00Z`);
  const real = !Number.isNaN(at) && new Date(at).toISOString().slice(0, 10) === text;
  return real ? { kind: 'day', day: text } : NONE;
}
