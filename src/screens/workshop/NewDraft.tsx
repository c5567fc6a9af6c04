import { useState, type DragEvent } from 'react';
import { useLocation } from 'wouter';
import type { Catalogue } from '#shared/catalogue';
import { useHouse } from '../parts/house.ts';
import { never, useLive } from '../parts/live.ts';
import { useTell } from '../parts/Tell.tsx';
import { useText } from '../text/text.ts';
import type { DraftFrom, Workshop } from './desk.ts';

const KINDS: readonly Catalogue['kind'][] = [
  'aeroplane',
  'helicopter',
  'glider',
  'gyroplane',
  'other',
];
/** Bytes of a file whose text is read here: larger ones are no checklist. */
const LARGEST_FILE = 16 * 1024 * 1024;
const OFF = { state: 'off', words: '', why: null } as const;

/** A draft from what they have: pasted or dropped text, a table, a file of ours, dictation, or nothing. */
export function NewDraft({ shop }: { shop: Workshop }) {
  const t = useText();
  const { dictation } = useHouse();
  const said = useLive<{ state: string; words: string; why: string | null } | null>(
    dictation?.now ?? never,
  );
  const { tell } = useTell();
  const [, go] = useLocation();
  const [text, setText] = useState('');
  const [name, setName] = useState('');
  const [kind, setKind] = useState<Catalogue['kind']>('aeroplane');
  const [spoken, setSpoken] = useState(false);
  const now = said ?? OFF;
  const dictating = spoken && now.state !== 'off';

  const begin = async (from: DraftFrom) => {
    const outcome = await shop.begin(from);
    if (tell(outcome) && outcome.ok) go(`/workshop/draft/${outcome.value}`);
  };
  const take = async (file: File | undefined) => {
    if (file === undefined) return;
    if (file.size > LARGEST_FILE) {
      tell({
        ok: false,
        error: t('shop-file-large', {
          file: file.name,
          size: Math.ceil(file.size / 1024 / 1024),
          most: LARGEST_FILE / 1024 / 1024,
        }),
      });
      return;
    }
    const words = await file.text();
    if (words.startsWith('%PDF') || words.includes('\u0000')) {
      tell({
        ok: false,
        error: t('shop-file-no-text', { file: file.name }),
      });
      return;
    }
    setText(words);
  };
  const drop = (event: DragEvent) => {
    event.preventDefault();
    const plain = event.dataTransfer.getData('text/plain');
    if (plain !== '') setText(plain);
    else void take(event.dataTransfer.files[0]);
  };
  const dictate = async () => {
    if (dictation === undefined) return;
    if (!dictating) {
      setSpoken(true);
      dictation.start('');
      return;
    }
    const { heard } = await dictation.done();
    setSpoken(false);
    setText((before) => [before, ...heard.map((h) => h.text)].filter((t) => t !== '').join('\n'));
  };
  // Dictated lines say "station" and "check"; a printed list does not.
  const talk = /^\s*(new |next )?station\b/im.test(text) && !/[.…]{3}|\t|:/.test(text);
  return (
    <section className="new-draft">
      <h2>{t('shop-new')}</h2>
      <label className="field" onDragOver={(e) => e.preventDefault()} onDrop={drop}>
        <span>{t('shop-paste')}</span>
        <textarea
          rows={8}
          value={dictating ? now.words : text}
          readOnly={dictating}
          onChange={(e) => setText(e.target.value)}
        />
      </label>
      {dictating && now.why !== null && <p role="alert">{now.why}</p>}
      <div className="tools">
        <button
          type="button"
          className="press main"
          disabled={dictating}
          onClick={() =>
            void begin(
              talk ? { from: 'talk', utterances: text.split('\n') } : { from: 'text', text },
            )
          }
        >
          {t('shop-make')}
        </button>
        <label className="press file">
          <input
            type="file"
            accept=".txt,.csv,.tsv,.yaml,.yml,text/*"
            onChange={(e) => void take(e.target.files?.[0])}
          />
          {t('shop-read-file')}
        </label>
        {dictation !== undefined && (
          <button type="button" className="press" onClick={() => void dictate()}>
            {t(dictating ? 'shop-dictate-stop' : 'shop-dictate')}
          </button>
        )}
      </div>
      <p className="small quiet">{t('shop-dictate-how')}</p>
      <div className="fields">
        <label className="field">
          <span>{t('shop-nothing-name')}</span>
          <input value={name} autoComplete="off" onChange={(e) => setName(e.target.value)} />
        </label>
        <label className="field">
          <span>{t('shop-nothing-kind')}</span>
          <select
            value={kind}
            onChange={(e) => setKind(KINDS.find((k) => k === e.target.value) ?? 'other')}
          >
            {KINDS.map((k) => (
              <option key={k} value={k}>
                {t(`shop-kind-${k}`)}
              </option>
            ))}
          </select>
        </label>
        <button
          type="button"
          className="press"
          onClick={() => void begin({ from: 'nothing', name, kind })}
        >
          {t('shop-nothing-begin')}
        </button>
      </div>
    </section>
  );
}
