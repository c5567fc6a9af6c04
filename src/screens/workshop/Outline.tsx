import { useRef, useState, type KeyboardEvent, type PointerEvent } from 'react';
import { freeId, type Edit, type Outline as Read } from '#catalogue';
import { useText } from '../text/text.ts';
import type { Heed } from './desk.ts';
import type { Picked } from './Edit.tsx';
import type { Editing } from './useEditing.ts';

interface OutlineProps {
  readonly outline: Read;
  readonly editing: Editing;
  readonly open: ReadonlyMap<string, readonly string[]>;
  readonly heeds: readonly Heed[];
  readonly picked: Picked;
  pick(picked: Picked): void;
}

/** A row that is dragged, or that something is dropped on. check null: the station itself. */
interface Spot {
  readonly station: number;
  readonly check: number | null;
}

/** Stations and checks in walking order: picked with a touch, put in another order by drag or with the arrow keys. */
export function Outline({ outline, editing, open, heeds, picked, pick }: OutlineProps) {
  const t = useText();
  const [told, setTold] = useState('');
  const [over, setOver] = useState<Spot | null>(null);
  const dragged = useRef<Spot | null>(null);
  const { stations } = outline;
  const marked = new Set(heeds.map((h) => h.check));

  const move = (from: Spot, to: Spot) => {
    const edit = moved(outline, from, to);
    if (edit === null || !editing.edit([edit])) return;
    const at = landed(from, to, stations[to.station]?.checks.length ?? 0);
    pick(at);
    const name =
      from.check === null
        ? stations[from.station]?.name
        : stations[from.station]?.checks[from.check]?.name;
    setTold(
      at.check === null
        ? t('shop-moved-station', { name: name ?? '', n: at.station + 1, of: stations.length })
        : t('shop-moved-check', {
            name: name ?? '',
            n: at.check + 1,
            station: stations[at.station]?.name ?? '',
          }),
    );
  };
  const keys = (e: KeyboardEvent, from: Spot) => {
    if (e.key !== 'ArrowUp' && e.key !== 'ArrowDown') return;
    e.preventDefault();
    const to = next(outline, from, e.key === 'ArrowUp' ? -1 : 1);
    if (to !== null) move(from, to);
  };
  const grip = (spot: Spot, name: string) => (
    <button
      type="button"
      className="grip"
      aria-label={t('shop-grip', { name })}
      onKeyDown={(e) => keys(e, spot)}
      onPointerDown={(e: PointerEvent<HTMLButtonElement>) => {
        dragged.current = spot;
        e.currentTarget.setPointerCapture(e.pointerId);
      }}
      onPointerMove={(e) => {
        if (dragged.current !== null) setOver(spotAt(e.clientX, e.clientY));
      }}
      onPointerUp={(e) => {
        const to = spotAt(e.clientX, e.clientY);
        if (dragged.current !== null && to !== null) move(dragged.current, to);
        dragged.current = null;
        setOver(null);
      }}
      onPointerCancel={() => {
        dragged.current = null;
        setOver(null);
      }}
    >
      <span aria-hidden="true">⠿</span>
    </button>
  );
  const row = (spot: Spot) =>
    `${same(spot, picked) ? ' picked' : ''}${over !== null && same(spot, over) ? ' over' : ''}`;

  return (
    <section className="outline" aria-label={t('shop-outline')}>
      <p className="unseen" role="status">
        {told}
      </p>
      <ol>
        {stations.map((s, si) => (
          <li key={s.id || si}>
            <div className={`row station${row({ station: si, check: null })}`} data-spot={`${si}`}>
              {grip({ station: si, check: null }, s.name)}
              <button
                type="button"
                className="pick"
                aria-current={same({ station: si, check: null }, picked) || undefined}
                onClick={() => pick({ station: si, check: null })}
              >
                {si + 1}. {s.name || t('shop-without-name')}
              </button>
            </div>
            <ol>
              {s.checks.map((c, ci) => {
                const spot = { station: si, check: ci };
                const guesses = open.get(`${si}.${ci}`)?.length ?? 0;
                return (
                  <li key={c.id || ci}>
                    <div className={`row${row(spot)}`} data-spot={`${si}.${ci}`}>
                      {grip(spot, c.name)}
                      <button
                        type="button"
                        className="pick"
                        aria-current={same(spot, picked) || undefined}
                        onClick={() => pick(spot)}
                      >
                        {c.name || t('shop-without-name')}
                        {guesses > 0 && (
                          <span className="tag">{t('shop-guesses', { n: guesses })}</span>
                        )}
                        {marked.has(c.id) && <span className="tag ear">{t('shop-by-ear')}</span>}
                      </button>
                    </div>
                  </li>
                );
              })}
            </ol>
            <button
              type="button"
              className="press plain"
              onClick={() => {
                const at = s.checks.length;
                const name = newName(t('shop-check-new'), s);
                const id = freeId(name, idsOf(outline), s.id);
                if (
                  editing.edit([
                    {
                      do: 'insert',
                      list: ['stations', si, 'checks'],
                      at,
                      value: { id, name },
                    },
                  ])
                )
                  pick({ station: si, check: at });
              }}
            >
              {t('shop-check-add', { name: s.name })}
            </button>
          </li>
        ))}
      </ol>
      <button
        type="button"
        className="press"
        onClick={() => {
          const name = t('shop-station-new');
          const id = freeId(name, new Set(stations.map((x) => x.id)));
          const checkName = t('shop-check-new');
          const check = { id: freeId(checkName, idsOf(outline), id), name: checkName };
          const value = { id, name, place: { x: 50, y: 50 }, checks: [check] };
          if (editing.edit([{ do: 'insert', list: ['stations'], at: stations.length, value }]))
            pick({ station: stations.length, check: null });
        }}
      >
        {t('shop-station-add')}
      </button>
    </section>
  );
}

function idsOf(outline: Read): ReadonlySet<string> {
  return new Set(outline.stations.flatMap((s) => s.checks.map((c) => c.id)));
}

/** No second check of one name at one station, not even for a moment. */
function newName(name: string, station: Read['stations'][number]): string {
  const taken = new Set(station.checks.map((c) => c.name));
  if (!taken.has(name)) return name;
  let n = 2;
  while (taken.has(`${name} ${n}`)) n += 1;
  return `${name} ${n}`;
}

function same(a: Spot, b: Spot): boolean {
  return a.station === b.station && a.check === b.check;
}

/** The row under a finger. */
function spotAt(x: number, y: number): Spot | null {
  const row = document.elementFromPoint(x, y)?.closest('[data-spot]');
  const [station, check] = (row?.getAttribute('data-spot') ?? '').split('.');
  if (station === undefined || station === '') return null;
  return { station: Number(station), check: check === undefined ? null : Number(check) };
}

/** One place up or down; a check goes on into the next station. */
function next({ stations }: Read, from: Spot, by: -1 | 1): Spot | null {
  if (from.check === null) {
    const station = from.station + by;
    return station < 0 || station >= stations.length ? null : { station, check: null };
  }
  const here = stations[from.station]?.checks.length ?? 0;
  const check = from.check + by;
  if (check >= 0 && check < here) return { station: from.station, check };
  const other = stations[from.station + by];
  return other === undefined
    ? null
    : { station: from.station + by, check: by === 1 ? 0 : other.checks.length };
}

/** The change of the file that puts `from` where `to` is; null when nothing moves, or a station would be left empty. */
function moved({ stations }: Read, from: Spot, to: Spot): Edit | null {
  if (same(from, to)) return null;
  if (from.check === null)
    return {
      do: 'move',
      list: ['stations'],
      at: from.station,
      to: { list: ['stations'], at: to.station },
    };
  if (from.station !== to.station && (stations[from.station]?.checks.length ?? 0) < 2) return null;
  return {
    do: 'move',
    list: ['stations', from.station, 'checks'],
    at: from.check,
    to: { list: ['stations', to.station, 'checks'], at: to.check ?? 0 },
  };
}

function landed(from: Spot, to: Spot, there: number): Picked {
  if (from.check === null) return { station: to.station, check: null };
  const check = to.check ?? 0;
  return {
    station: to.station,
    check: from.station === to.station ? check : Math.min(check, there),
  };
}
