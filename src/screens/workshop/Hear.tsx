import { useState } from 'react';
import type { Outline } from '#catalogue';
import { useTell } from '../parts/Tell.tsx';
import { useText } from '../text/text.ts';
import type { Heed, ProofLine, Workshop } from './desk.ts';

function unheard(error: unknown): { readonly ok: false; readonly error: string } {
  return { ok: false, error: error instanceof Error ? error.message : String(error) };
}

/** Everything the linter says; a sentence to try; sample sentences of every check. */
export function Hear({
  shop,
  text,
  heeds,
  outline,
}: {
  shop: Workshop;
  text: string;
  heeds: readonly Heed[];
  outline: Outline | null;
}) {
  const t = useText();
  const { tell } = useTell();
  const [sentence, setSentence] = useState('');
  const [station, setStation] = useState('');
  const [read, setRead] = useState<string | null>(null);
  const [proof, setProof] = useState<readonly ProofLine[] | null>(null);
  const tryOut = async () => {
    const at = station === '' ? null : station;
    const outcome = await shop.hearing.tryOut(text, sentence, at).catch(unheard);
    if (tell(outcome) && outcome.ok) setRead(outcome.value);
  };
  const walk = async () => {
    const outcome = await shop.hearing.proof(text).catch(unheard);
    if (tell(outcome) && outcome.ok) setProof(outcome.value);
  };
  const missed = proof?.filter((p) => !p.understood) ?? [];
  return (
    <section className="hear">
      <h2>{t('shop-hear')}</h2>
      {heeds.length === 0 ? (
        <p className="quiet">{t('shop-hear-nothing')}</p>
      ) : (
        <ul className="lines heeds">
          {heeds.map((h, i) => (
            <li key={`${i} ${h.text}`}>
              <strong>
                {h.line === null
                  ? t(`shop-sort-${h.sort}`)
                  : t('shop-sort-line', { sort: t(`shop-sort-${h.sort}`), line: h.line })}
              </strong>{' '}
              {h.text}
              {h.sentences.map((s) => (
                <p key={s.said} className="small">
                  <q>{s.said}</q> {t('shop-means', { read: s.read })}
                </p>
              ))}
            </li>
          ))}
        </ul>
      )}
      <form
        className="fields"
        onSubmit={(e) => {
          e.preventDefault();
          void tryOut();
        }}
      >
        <label className="field">
          <span>{t('shop-try')}</span>
          <input
            value={sentence}
            autoComplete="off"
            onChange={(e) => setSentence(e.target.value)}
          />
        </label>
        <label className="field">
          <span>{t('shop-try-at')}</span>
          <select value={station} onChange={(e) => setStation(e.target.value)}>
            <option value="">{t('shop-try-anywhere')}</option>
            {outline?.stations.map((s) => (
              <option key={s.id} value={s.id}>
                {s.name}
              </option>
            ))}
          </select>
        </label>
        <button type="submit" className="press">
          {t('shop-try-it')}
        </button>
      </form>
      {read !== null && (
        <pre className="read" role="status">
          {read}
        </pre>
      )}
      <div className="tools">
        <button type="button" className="press" onClick={() => void walk()}>
          {t('shop-proof')}
        </button>
        {proof !== null && (
          <p role="status">
            {missed.length === 0
              ? t('shop-proof-all', { n: proof.length })
              : t('shop-proof-missed', { n: proof.length, missed: missed.length })}
          </p>
        )}
      </div>
      {missed.length > 0 && (
        <ul className="lines">
          {missed.map((p) => (
            <li key={`${p.check} ${p.said}`}>
              <q>{p.said}</q> <span className="quiet">{t('shop-read-as', { read: p.read })}</span>
              <button
                type="button"
                className="press plain"
                aria-label={t('shop-say-aloud', { words: p.said })}
                onClick={() => void shop.hearing.say(p.said)}
              >
                {t('shop-say-it')}
              </button>
            </li>
          ))}
        </ul>
      )}
    </section>
  );
}
