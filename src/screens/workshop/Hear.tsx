import { useState } from 'react';
import type { Outline } from '#catalogue';
import { useTell } from '../parts/Tell.tsx';
import { many } from '../parts/words.ts';
import type { Heed, ProofLine, Workshop } from './desk.ts';

const SORTS: Readonly<Record<Heed['sort'], string>> = {
  error: 'To be mended',
  doubt: 'Perhaps a slip',
  'by-ear': 'By ear',
};

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
      <h2>Hear it</h2>
      {heeds.length === 0 ? (
        <p className="quiet">Nothing to mend.</p>
      ) : (
        <ul className="lines heeds">
          {heeds.map((h, i) => (
            <li key={`${i} ${h.text}`}>
              <strong>{SORTS[h.sort]}</strong>
              {h.line !== null && `, line ${h.line}`}: {h.text}
              {h.sentences.map((s) => (
                <p key={s.said} className="small">
                  <q>{s.said}</q> means: {s.read}
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
          <span>Try a sentence</span>
          <input
            value={sentence}
            autoComplete="off"
            onChange={(e) => setSentence(e.target.value)}
          />
        </label>
        <label className="field">
          <span>Said at</span>
          <select value={station} onChange={(e) => setStation(e.target.value)}>
            <option value="">anywhere</option>
            {outline?.stations.map((s) => (
              <option key={s.id} value={s.id}>
                {s.name}
              </option>
            ))}
          </select>
        </label>
        <button type="submit" className="press">
          Try it
        </button>
      </form>
      {read !== null && (
        <pre className="read" role="status">
          {read}
        </pre>
      )}
      <div className="tools">
        <button type="button" className="press" onClick={() => void walk()}>
          Proof walk
        </button>
        {proof !== null && (
          <p role="status">
            {many(proof.length, 'sentence')} read;{' '}
            {missed.length === 0 ? 'all understood.' : `${missed.length} not understood:`}
          </p>
        )}
      </div>
      {missed.length > 0 && (
        <ul className="lines">
          {missed.map((p) => (
            <li key={`${p.check} ${p.said}`}>
              <q>{p.said}</q> <span className="quiet">was read as: {p.read}</span>
              <button
                type="button"
                className="press plain"
                aria-label={`Say “${p.said}” aloud`}
                onClick={() => void shop.hearing.say(p.said)}
              >
                Say it
              </button>
            </li>
          ))}
        </ul>
      )}
    </section>
  );
}
