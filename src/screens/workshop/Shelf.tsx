import { useEffect, useState } from 'react';
import { Link, useLocation } from 'wouter';
import { handOut } from '../parts/handOut.ts';
import { useHouse } from '../parts/house.ts';
import { useLive } from '../parts/live.ts';
import { Modal } from '../parts/Modal.tsx';
import { useTell } from '../parts/Tell.tsx';
import { dateTime } from '../parts/words.ts';
import { useText } from '../text/text.ts';
import type { BookLine, EditionLine, Workshop } from './desk.ts';
import { NewDraft } from './NewDraft.tsx';
import { QrCode } from './QrCode.tsx';

/** Every catalogue of this device, its editions and its drafts. */
export function Shelf({ shop }: { shop: Workshop }) {
  const t = useText();
  const books = useLive(shop.books);
  const drafts = useLive(shop.drafts);
  const { tell } = useTell();
  useEffect(() => {
    void shop.refresh();
  }, [shop]);
  return (
    <div className="workshop">
      <header className="head">
        <h1>{t('place-catalogues')}</h1>
        <p className="quiet">{t('shop-shelf')}</p>
      </header>
      {drafts.length > 0 && (
        <section>
          <h2>{t('shop-drafts')}</h2>
          <ul className="lines">
            {drafts.map((d) => (
              <li key={d.id} className="draft-line">
                <Link href={`/workshop/draft/${d.id}`}>{d.name || t('shop-without-name')}</Link>
                <span className="quiet small">
                  {t('shop-draft-changed', { at: dateTime(d.changed) })}
                </span>
                <button
                  type="button"
                  className="press"
                  aria-label={t('shop-draft-drop-name', { name: d.name })}
                  onClick={() => void shop.drop(d.id).then(tell)}
                >
                  {t('shop-draft-drop')}
                </button>
              </li>
            ))}
          </ul>
        </section>
      )}
      <section>
        <h2>{t('shop-here')}</h2>
        <ul className="lines">
          {books.map((b) => (
            <li key={b.id}>
              <Book shop={shop} book={b} />
            </li>
          ))}
        </ul>
      </section>
      <NewDraft shop={shop} />
    </div>
  );
}

function Book({ shop, book }: { shop: Workshop; book: BookLine }) {
  const t = useText();
  const settings = useLive(useHouse().settings);
  const { tell, say } = useTell();
  const [, go] = useLocation();
  const [code, setCode] = useState<string | null>(null);
  /** A file may carry what was learned, which names people: asked each time. */
  const [asking, setAsking] = useState(false);
  const [aircraft, setAircraft] = useState<string | null>(null);
  const draft = async (as: 'edition' | 'copy') => {
    const outcome = await shop.begin({ from: 'catalogue', id: book.id, as });
    if (tell(outcome) && outcome.ok) go(`/workshop/draft/${outcome.value}`);
  };
  const giveFile = async (learned: boolean) => {
    setAsking(false);
    const outcome = await shop.give(book.id, settings.pilot, learned);
    if (tell(outcome) && outcome.ok) await handOut(outcome.value.name, outcome.value.blob, true);
  };
  const showCode = async () => {
    const outcome = await shop.give(book.id, settings.pilot);
    if (!tell(outcome) || !outcome.ok) return;
    if (outcome.value.code === null) say(t('shop-code-too-large'));
    else setCode(outcome.value.code);
  };
  const named = aircraft ?? book.aircraft.join(', ');
  return (
    <details className={`book${book.putAway ? ' away' : ''}`}>
      <summary>
        <strong>{book.name}</strong>
        <span className="quiet small">
          {[
            t('stations', { n: book.stations }),
            t('checks', { n: book.checks }),
            ...(book.starter ? [t('shop-book-starter')] : []),
            ...(book.putAway ? [t('shop-book-away')] : []),
          ].join(', ')}
        </span>
      </summary>
      <div className="tools">
        {!book.starter && (
          <button type="button" className="press" onClick={() => void draft('edition')}>
            {t('shop-change')}
          </button>
        )}
        <button type="button" className="press" onClick={() => void draft('copy')}>
          {t('shop-copy')}
        </button>
        <button
          type="button"
          className="press"
          onClick={() => (book.learned > 0 ? setAsking(true) : void giveFile(false))}
        >
          {t('shop-give-file')}
        </button>
        <button type="button" className="press" onClick={() => void showCode()}>
          {t('shop-give-code')}
        </button>
        <button
          type="button"
          className="press"
          onClick={() => void shop.putAway(book.id, !book.putAway).then(tell)}
        >
          {t(book.putAway ? 'shop-offer-again' : 'shop-put-away')}
        </button>
      </div>
      <label className="field">
        <span>{t('shop-aircraft')}</span>
        <input
          value={named}
          autoComplete="off"
          onChange={(e) => setAircraft(e.target.value)}
          onBlur={() => {
            if (aircraft === null) return;
            void shop.setAircraft(book.id, aircraft.split(',')).then(tell);
            setAircraft(null);
          }}
        />
      </label>
      <h3>{t('shop-editions')}</h3>
      <ul className="lines">
        {[...book.editions].reverse().map((e) => (
          <li key={e.edition} className="edition">
            <EditionRow shop={shop} edition={e} starter={book.starter} />
          </li>
        ))}
      </ul>
      {asking && (
        <Modal title={t('shop-give-file')} close={() => setAsking(false)}>
          <div className="publish">
            <p>{t('shop-give-learned', { n: book.learned, aircraft: book.aircraft.join(', ') })}</p>
            <div className="tools">
              <button type="button" className="press" onClick={() => void giveFile(false)}>
                {t('shop-give-alone')}
              </button>
              <button type="button" className="press" onClick={() => void giveFile(true)}>
                {t('shop-give-with')}
              </button>
            </div>
          </div>
        </Modal>
      )}
      {code !== null && (
        <Modal title={book.name} close={() => setCode(null)}>
          <QrCode text={code} label={t('shop-code-label', { name: book.name })} />
          <p>{t('shop-code-how')}</p>
        </Modal>
      )}
    </details>
  );
}

function EditionRow({
  shop,
  edition: e,
  starter,
}: {
  shop: Workshop;
  edition: EditionLine;
  starter: boolean;
}) {
  const { tell } = useTell();
  const t = useText();
  const name =
    e.version === null
      ? t('shop-edition', { edition: e.edition.slice(0, 8) })
      : t('shop-version', { version: e.version });
  return (
    <>
      <span>
        <strong>{name}</strong>
        {e.current && `, ${t('shop-edition-current')}`}
        {e.withdrawn && `, ${t('shop-edition-withdrawn')}`}
        <span className="quiet small">
          {' '}
          {[
            ...(e.change === null ? [] : [`${e.change.on}, ${e.change.by}: ${e.change.why}.`]),
            ...(e.from === null
              ? []
              : [
                  t('shop-edition-from', {
                    by: e.from.by || t('shop-somebody'),
                    key: e.from.key,
                  }),
                ]),
            ...(e.walks === 0 ? [] : [t('shop-edition-walks', { n: e.walks })]),
          ].join(' ')}
        </span>
      </span>
      <span className="tools">
        <button
          type="button"
          className="press"
          aria-label={t(e.withdrawn ? 'shop-bring-back-name' : 'shop-withdraw-name', { name })}
          onClick={() => void shop.withdraw(e.edition, !e.withdrawn).then(tell)}
        >
          {t(e.withdrawn ? 'shop-bring-back' : 'shop-withdraw')}
        </button>
        {!starter && (
          <button
            type="button"
            className="press"
            aria-label={t('shop-delete-name', { name })}
            onClick={() => void shop.remove(e.edition).then(tell)}
          >
            {t('shop-delete')}
          </button>
        )}
      </span>
    </>
  );
}
