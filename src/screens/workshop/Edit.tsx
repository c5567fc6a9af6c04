import { lazy, Suspense, useEffect, useMemo, useState } from 'react';
import { outlineOf, toConfirm, type Outline as Read } from '#catalogue';
import { Waiting } from '../parts/Frame.tsx';
import { useText } from '../text/text.ts';
import { About } from './About.tsx';
import { CheckForm } from './CheckForm.tsx';
import type { Heed, Workshop } from './desk.ts';
import { Hear } from './Hear.tsx';
import { Left } from './Left.tsx';
import { Outline } from './Outline.tsx';
import { PlanBoard } from './PlanBoard.tsx';
import { Publish } from './Publish.tsx';
import { StationForm } from './StationForm.tsx';
import { useEditing, type Editing } from './useEditing.ts';

const Yaml = lazy(() => import('./Yaml.tsx'));
/** The grammar is asked when nothing was changed for this long: it takes part of a second. Milliseconds. */
const HEED_AFTER = 500;

/** What is picked in the outline: a station, or a check of it. */
export interface Picked {
  readonly station: number;
  readonly check: number | null;
}

export function Edit({ shop, id }: { shop: Workshop; id: string }) {
  const t = useText();
  const [first, setFirst] = useState<string | null>(null);
  const [error, setError] = useState<string | null>(null);
  useEffect(() => {
    let still = true;
    void shop.draft(id).then((outcome) => {
      if (!still) return;
      if (outcome.ok) setFirst(outcome.value);
      else setError(outcome.error);
    });
    return () => {
      still = false;
    };
  }, [shop, id]);
  if (error !== null) return <p role="alert">{error}</p>;
  if (first === null) return <Waiting what={t('shop-draft-opening')} />;
  return <Draft shop={shop} id={id} first={first} />;
}

function Draft({ shop, id, first }: { shop: Workshop; id: string; first: string }) {
  const t = useText();
  const editing = useEditing(shop, id, first);
  const { text } = editing;
  const outline = useMemo(() => outlineOf(text), [text]);
  const open = useMemo(() => toConfirm(text), [text]);
  const heeds = useHeeds(shop, text);
  const [picked, setPicked] = useState<Picked>({ station: 0, check: 0 });
  const [view, setView] = useState<'forms' | 'text'>('forms');
  const [publishing, setPublishing] = useState(false);
  const count = [...open.values()].reduce((n, list) => n + list.length, 0);
  useKeys(editing, view === 'forms');
  return (
    <div className="workshop editing">
      <header className="head">
        <h1>{outline?.name ?? t('shop-draft')}</h1>
        <p className="quiet" role="status">
          {count === 0 ? t('shop-confirmed') : t('shop-to-confirm', { n: count })}{' '}
          {heeds.length > 0 && t('shop-remarks', { n: heeds.length })}
        </p>
      </header>
      <div className="tools">
        <button
          type="button"
          className="press"
          aria-pressed={view === 'forms'}
          onClick={() => setView('forms')}
        >
          {t('shop-view-forms')}
        </button>
        <button
          type="button"
          className="press"
          aria-pressed={view === 'text'}
          onClick={() => setView('text')}
        >
          {t('shop-view-file')}
        </button>
        <button
          type="button"
          className="press"
          disabled={editing.undo === null}
          onClick={() => editing.undo?.()}
        >
          {t('shop-undo')}
        </button>
        <button
          type="button"
          className="press"
          disabled={editing.redo === null}
          onClick={() => editing.redo?.()}
        >
          {t('shop-redo')}
        </button>
        <button
          type="button"
          className="press main"
          onClick={() => void editing.kept().then(() => setPublishing(true))}
        >
          {t('shop-publish-open-it')}
        </button>
      </div>
      {outline !== null && <About outline={outline} editing={editing} />}
      {view === 'text' ? (
        <Suspense fallback={<Waiting what={t('shop-editor-opening')} />}>
          <Yaml text={text} type={editing.type} heeds={heeds} />
        </Suspense>
      ) : outline === null ? (
        <p role="alert">{t('shop-unreadable')}</p>
      ) : (
        <Forms
          outline={outline}
          editing={editing}
          open={open}
          heeds={heeds}
          shop={shop}
          picked={within(outline, picked)}
          pick={setPicked}
        />
      )}
      <Hear shop={shop} text={text} heeds={heeds} outline={outline} />
      <Left text={text} />
      {publishing && <Publish shop={shop} id={id} close={() => setPublishing(false)} />}
    </div>
  );
}

/** What was picked may have been taken out since. */
function within(outline: Read, picked: Picked): Picked {
  const station = Math.max(0, Math.min(picked.station, outline.stations.length - 1));
  const checks = outline.stations[station]?.checks.length ?? 0;
  return {
    station,
    check: picked.check === null || checks === 0 ? null : Math.min(picked.check, checks - 1),
  };
}

function Forms({
  outline,
  editing,
  open,
  heeds,
  shop,
  picked,
  pick,
}: {
  outline: Read;
  editing: Editing;
  open: ReadonlyMap<string, readonly string[]>;
  heeds: readonly Heed[];
  shop: Workshop;
  picked: Picked;
  pick: (picked: Picked) => void;
}) {
  return (
    <div className="bench">
      <Outline
        outline={outline}
        editing={editing}
        open={open}
        heeds={heeds}
        picked={picked}
        pick={pick}
      />
      <div className="bench-side">
        <PlanBoard outline={outline} editing={editing} picked={picked} pick={pick} />
        {picked.check === null ? (
          <StationForm
            key={`s${picked.station}`}
            outline={outline}
            editing={editing}
            at={picked.station}
          />
        ) : (
          <CheckForm
            key={`${picked.station}.${picked.check}.${outline.stations[picked.station]?.checks[picked.check]?.id ?? ''}`}
            outline={outline}
            editing={editing}
            shop={shop}
            station={picked.station}
            check={picked.check}
            open={open.get(`${picked.station}.${picked.check}`) ?? []}
            heeds={heeds}
          />
        )}
      </div>
    </div>
  );
}

/** What the linter says of the text, a little after it was changed. */
function useHeeds(shop: Workshop, text: string): readonly Heed[] {
  const [heeds, setHeeds] = useState<readonly Heed[]>([]);
  useEffect(() => {
    let still = true;
    const timer = setTimeout(() => {
      void shop.hearing.heed(text).then(
        (list) => {
          if (still) setHeeds(list);
        },
        (error: unknown) => {
          const why = error instanceof Error ? error.message : String(error);
          if (still)
            setHeeds([{ check: null, line: null, sort: 'doubt', text: why, sentences: [] }]);
        },
      );
    }, HEED_AFTER);
    return () => {
      still = false;
      clearTimeout(timer);
    };
  }, [shop, text]);
  return heeds;
}

/** Undo and redo by key, where no field has its own. */
function useKeys(editing: Editing, on: boolean): void {
  useEffect(() => {
    if (!on) return;
    const press = (e: KeyboardEvent) => {
      const field =
        e.target instanceof Element && e.target.closest('input, textarea, select') !== null;
      if (field || !(e.ctrlKey || e.metaKey) || e.key.toLowerCase() !== 'z') return;
      e.preventDefault();
      if (e.shiftKey) editing.redo?.();
      else editing.undo?.();
    };
    addEventListener('keydown', press);
    return () => removeEventListener('keydown', press);
  }, [editing, on]);
}
