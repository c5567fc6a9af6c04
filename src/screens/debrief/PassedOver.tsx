import { memo } from 'react';
import { useText } from '../text/text.ts';
import { when, type Talk, type Utterance } from './talk.ts';
import { Play } from './Words.tsx';

/** Talk about nothing on the aircraft: heard, and nothing was made of it. */
export function passedOver({ statements, sort }: Utterance): boolean {
  return sort === 'nothing' && statements.every((s) => s.kind === 'not-understood');
}

/** What was heard and taken for nothing, so that a sentence that was lost can be seen. Not drawn again while one moves along the line. */
export const PassedOver = memo(function PassedOver({
  talk,
  pick,
}: {
  talk: Talk;
  pick: (position: number) => void;
}) {
  const t = useText();
  const passed = talk.utterances.flatMap((utterance, at) =>
    passedOver(utterance) ? [{ utterance, at }] : [],
  );
  if (passed.length === 0) return null;
  return (
    <section aria-labelledby="passed-over" className="passed-over">
      <h2 id="passed-over">{t('passed-over')}</h2>
      <details>
        <summary>
          {t('passed-over-count', {
            utterances: t('utterances', { n: passed.length }),
            all: talk.utterances.length,
          })}
        </summary>
        <ul className="lines">
          {passed.map(({ utterance, at }) => (
            <li key={utterance.event} className="heard-line">
              <span className="number quiet">{when(talk, utterance.from)}</span>
              <button type="button" className="line" onClick={() => pick(at)}>
                <span className="words">{utterance.heard.text}</span>
              </button>
              {utterance.heard.sound !== null && <Play utterance={utterance} />}
            </li>
          ))}
        </ul>
      </details>
    </section>
  );
});
