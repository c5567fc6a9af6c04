import { useState } from 'react';
import { Link, useLocation } from 'wouter';
import { handOut } from '../parts/handOut.ts';
import { useHouse } from '../parts/house.ts';
import { useLive } from '../parts/live.ts';
import { Modal } from '../parts/Modal.tsx';
import { useTell } from '../parts/Tell.tsx';
import { dateTime, many } from '../parts/words.ts';
import type { BookLine, EditionLine, Workshop } from './desk.ts';
import { NewDraft } from './NewDraft.tsx';
import { QrCode } from './QrCode.tsx';

/** Every catalogue of this device, its editions and its drafts. */
export function Shelf({ shop }: { shop: Workshop }) {
  const books = useLive(shop.books);
  const drafts = useLive(shop.drafts);
  const { tell } = useTell();
  return (
    <div className="workshop">
      <header className="head">
        <h1>Catalogues</h1>
        <p className="quiet">What has to be checked on each type of aircraft.</p>
      </header>
      {drafts.length > 0 && (
        <section>
          <h2>Drafts</h2>
          <ul className="lines">
            {drafts.map((d) => (
              <li key={d.id} className="draft-line">
                <Link href={`/workshop/draft/${d.id}`}>{d.name || 'Without a name'}</Link>
                <span className="quiet small">changed {dateTime(d.changed)}</span>
                <button
                  type="button"
                  className="press"
                  aria-label={`Drop the draft ${d.name}`}
                  onClick={() => void shop.drop(d.id).then(tell)}
                >
                  Drop
                </button>
              </li>
            ))}
          </ul>
        </section>
      )}
      <section>
        <h2>On this device</h2>
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
  const settings = useLive(useHouse().settings);
  const { tell, say } = useTell();
  const [, go] = useLocation();
  const [code, setCode] = useState<string | null>(null);
  const [aircraft, setAircraft] = useState<string | null>(null);
  const draft = async (as: 'edition' | 'copy') => {
    const outcome = await shop.begin({ from: 'catalogue', id: book.id, as });
    if (tell(outcome) && outcome.ok) go(`/workshop/draft/${outcome.value}`);
  };
  const give = async (how: 'file' | 'code') => {
    const outcome = await shop.give(book.id, settings.pilot);
    if (!tell(outcome) || !outcome.ok) return;
    if (how === 'file') await handOut(outcome.value.name, outcome.value.blob, true);
    else if (outcome.value.code === null)
      say('This catalogue is too large for a code; give it as a file.');
    else setCode(outcome.value.code);
  };
  const named = aircraft ?? book.aircraft.join(', ');
  return (
    <details className={`book${book.putAway ? ' away' : ''}`}>
      <summary>
        <strong>{book.name}</strong>
        <span className="quiet small">
          {many(book.stations, 'station')}, {many(book.checks, 'check')}
          {book.starter && ', came with Talkround'}
          {book.putAway && ', put away'}
        </span>
      </summary>
      <div className="tools">
        {!book.starter && (
          <button type="button" className="press" onClick={() => void draft('edition')}>
            Change it
          </button>
        )}
        <button type="button" className="press" onClick={() => void draft('copy')}>
          Begin one from it
        </button>
        <button type="button" className="press" onClick={() => void give('file')}>
          Give away as a file
        </button>
        <button type="button" className="press" onClick={() => void give('code')}>
          Show as a code
        </button>
        <button
          type="button"
          className="press"
          onClick={() => void shop.putAway(book.id, !book.putAway).then(tell)}
        >
          {book.putAway ? 'Offer it again' : 'Put away'}
        </button>
      </div>
      <label className="field">
        <span>Aircraft that are walked by it, with commas between</span>
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
      <h3>Editions</h3>
      <ul className="lines">
        {[...book.editions].reverse().map((e) => (
          <li key={e.edition} className="edition">
            <EditionRow shop={shop} edition={e} starter={book.starter} />
          </li>
        ))}
      </ul>
      {code !== null && (
        <Modal title={book.name} close={() => setCode(null)}>
          <QrCode text={code} label={`Code that holds ${book.name}`} />
          <p>Scan it with the camera of another phone that can reach this address.</p>
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
  const name = e.version === null ? `Edition ${e.edition.slice(0, 8)}` : `Version ${e.version}`;
  return (
    <>
      <span>
        <strong>{name}</strong>
        {e.current && ', walked now'}
        {e.withdrawn && ', withdrawn'}
        <span className="quiet small">
          {' '}
          {e.change !== null && `${e.change.on}, ${e.change.by}: ${e.change.why}. `}
          {e.from !== null && `From ${e.from.by || 'somebody'}, key ${e.from.key}. `}
          {e.walks > 0 && `${many(e.walks, 'walk')} made with it.`}
        </span>
      </span>
      <span className="tools">
        <button
          type="button"
          className="press"
          aria-label={`${e.withdrawn ? 'Bring back' : 'Withdraw'} ${name}`}
          onClick={() => void shop.withdraw(e.edition, !e.withdrawn).then(tell)}
        >
          {e.withdrawn ? 'Bring back' : 'Withdraw'}
        </button>
        {!starter && (
          <button
            type="button"
            className="press"
            aria-label={`Delete ${name}`}
            onClick={() => void shop.remove(e.edition).then(tell)}
          >
            Delete
          </button>
        )}
      </span>
    </>
  );
}
