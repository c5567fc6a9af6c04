import { fieldsAt, type Edit, type Outline } from '#catalogue';
import { Act } from '#shared/catalogue';
import { capital } from '../parts/words.ts';
import { useText } from '../text/text.ts';
import { Aspects } from './Aspects.tsx';
import type { Heed, Workshop } from './desk.ts';
import { Several, Tick, Words, type Spot } from './Field.tsx';
import { isFields, namesOf, wordsOf, type Path } from './fields.ts';
import { OwnVoice } from './OwnVoice.tsx';
import { Measures } from './Measures.tsx';
import { Places } from './Places.tsx';
import { Required } from './Required.tsx';
import { Signs } from './Signs.tsx';
import { Sounds } from './Sounds.tsx';
import type { Editing } from './useEditing.ts';

/** A check's fields: each field that the file may have is here. */
export function CheckForm({
  outline,
  editing,
  shop,
  station,
  check,
  open,
  heeds,
}: {
  outline: Outline;
  editing: Editing;
  shop: Workshop;
  station: number;
  check: number;
  open: readonly string[];
  heeds: readonly Heed[];
}) {
  const t = useText();
  const list = ['stations', station, 'checks'];
  const path = [...list, check];
  const fields = fieldsAt(editing.text, path);
  if (fields === null) return null;
  const of = { editing, path, fields };
  const name = wordsOf(fields['name']);
  const names = [name, ...namesOf(fields['say'])].filter((n) => n.trim() !== '');
  const write = (word: string, phones: string) =>
    editing.edit(soundEdits(path, fields['pronounce'], word, phones));
  const own = heeds.filter((h) => h.check === fields['id']);
  const only = outline.stations[station]?.checks.length === 1;
  return (
    <section className="form" aria-label={t('shop-check')}>
      <h2>{name || t('shop-check-nameless')}</h2>
      {open.length > 0 && (
        <div className="guesses">
          <h3>{t('shop-guessed')}</h3>
          <ul>
            {open.map((g) => (
              <li key={g}>{capital(g)}</li>
            ))}
          </ul>
          <button
            type="button"
            className="press"
            onClick={() => editing.edit([{ do: 'confirm', list, at: check }])}
          >
            {t('shop-right')}
          </button>
        </div>
      )}
      <Words {...of} field="name" label={t('shop-name')} />
      {own.map((h) => (
        <div key={h.text} className="notice heed">
          <p>{h.text}</p>
          {h.sentences.length > 0 && (
            <ul className="small">
              {h.sentences.map((s) => (
                <li key={s.said}>
                  <q>{s.said}</q> {t('shop-means', { read: s.read })}
                </li>
              ))}
            </ul>
          )}
        </div>
      ))}
      <Several {...of} field="say" label={t('shop-say-people')} />
      {shop.ownVoice !== undefined && (
        <OwnVoice
          voice={shop.ownVoice}
          text={editing.text}
          station={outline.stations[station]?.id ?? ''}
          names={names}
          write={write}
        />
      )}
      <Aspects {...of} />
      <Acts {...of} />
      <Places {...of} />
      <Required {...of} />
      <Tick {...of} field="mandatory" label={t('shop-mandatory')} help={t('shop-mandatory-help')} />
      <Tick {...of} field="blanket" label={t('shop-blanket')} help={t('shop-blanket-help')} />
      <Tick {...of} field="optional" label={t('shop-optional')} help={t('shop-optional-help')} />
      <Measures
        editing={editing}
        path={[...path, 'measures']}
        outline={outline}
        own={wordsOf(fields['id'])}
      />
      <Signs {...of} outline={outline} />
      <Words {...of} field="caution" label={t('shop-caution')} />
      <Words {...of} field="source" label={t('shop-source-check')} />
      <Words {...of} field="jasc" label={t('shop-jasc')} help={t('shop-jasc-help')} />
      <Sounds shop={shop} text={editing.text} names={names} write={write} />
      <button
        type="button"
        className="press"
        disabled={only}
        onClick={() => editing.edit([{ do: 'remove', list, at: check }])}
      >
        {t('shop-check-out')}
      </button>
      {only && <p className="small quiet">{t('shop-check-only')}</p>}
    </section>
  );
}

/** How a word sounds, as the author writes it; nothing: as the dictionary has it. */
function soundEdits(path: Path, own: unknown, word: string, phones: string): readonly Edit[] {
  const at = [...path, 'pronounce'];
  const others = isFields(own) ? Object.keys(own).filter((w) => w !== word) : [];
  const value = phones.trim().toUpperCase();
  if (others.length === 0)
    return [{ do: 'set', path: at, value: value === '' ? undefined : { [word]: value } }];
  return [{ do: 'set', path: [...at, word], value: value === '' ? undefined : value }];
}

/** How it is done; left out, it is looked at. */
function Acts({ editing, path, fields }: Pick<Spot, 'editing' | 'path' | 'fields'>) {
  const t = useText();
  const acts = namesOf(fields['acts']);
  return (
    <fieldset>
      <legend>{t('shop-acts')}</legend>
      <div className="ticks">
        {Act.options.map((act) => (
          <label key={act} className="tick">
            <input
              type="checkbox"
              checked={acts.length === 0 ? act === 'look' : acts.includes(act)}
              onChange={(e) => {
                const now = new Set(acts.length === 0 ? ['look'] : acts);
                if (e.target.checked) now.add(act);
                else now.delete(act);
                const value = Act.options.filter((a) => now.has(a));
                editing.edit([
                  {
                    do: 'set',
                    path: [...path, 'acts'],
                    value: value.length === 0 ? undefined : value,
                  },
                ]);
              }}
            />
            {t(`shop-act-${act}`)}
          </label>
        ))}
      </div>
    </fieldset>
  );
}
