import type { Heard } from '#shared/heard';
import type { Replied } from '#shared/replied';
import { useHouse } from '../parts/house.ts';
import { useLive } from '../parts/live.ts';
import { useTell } from '../parts/Tell.tsx';
import type { Names } from '../parts/words.ts';
import type { Services } from '../services.ts';
import { useText, type Text } from '../text/text.ts';
import { readingWords, replyWords } from './readings.ts';
import { when, type Talk, type Utterance } from './talk.ts';

/** How many utterances stand before and after the picked one. */
const AROUND = 3;

/** The picked utterance among its neighbours: what was said, when, and what was made of it. */
export function Words({
  talk,
  at,
  pick,
  names,
}: {
  talk: Talk;
  at: number;
  pick: (position: number) => void;
  names: Names;
}) {
  const t = useText();
  const { utterances, opening } = talk;
  if (utterances.length === 0) return <p>{t('heard-none')}</p>;
  const middle = Math.max(0, at);
  const from = Math.max(0, Math.min(middle - AROUND, utterances.length - 2 * AROUND - 1));
  return (
    <>
      {from === 0 && <Replies of={opening} />}
      <ol className="words-list lines" start={from + 1}>
        {utterances.slice(from, from + 2 * AROUND + 1).map((u, i) => (
          <Line
            key={u.event}
            utterance={u}
            at={when(talk, u.from)}
            picked={from + i === at}
            pick={() => pick(from + i)}
            names={names}
          />
        ))}
      </ol>
    </>
  );
}

/** What Talkround gave back: what a person with closed eyes had to go by. */
function Replies({ of }: { of: readonly Replied[] }) {
  const t = useText();
  return of.map((r) => (
    <span key={r.from} className="replied small">
      {replyWords(r, t)}
    </span>
  ));
}

function Line({
  utterance,
  at,
  picked,
  pick,
  names,
}: {
  utterance: Utterance;
  at: string;
  picked: boolean;
  pick: () => void;
  names: Names;
}) {
  const t = useText();
  const { heard, statements } = utterance;
  return (
    <li className={picked ? 'picked' : ''}>
      <button type="button" className="line" aria-pressed={picked} onClick={pick}>
        <span className="number quiet">{at}</span>
        <span className="line-words">
          <Lit utterance={utterance} />
          <span className="quiet small">
            {statements.map((s) => readingWords(s, names, t)).join(' · ') ||
              t(utterance.spokenOver ? 'heard-spoken-over' : 'heard-unread')}
          </span>
          <Replies of={utterance.replies} />
          {picked && <span className="quiet small">{byWords(heard, t)}</span>}
        </span>
      </button>
      {heard.sound !== null && <Play utterance={utterance} />}
    </li>
  );
}

/** How an utterance came, and what else it was heard as. */
function byWords({ by, sentAway, alternatives }: Heard, t: Text): string {
  const here = t(`heard-by-${by}`);
  const came = sentAway ? t('heard-sent', { by: here }) : here;
  if (alternatives.length === 0) return came;
  return t('heard-also', { by: came, words: alternatives.map((a) => a.text).join('; ') });
}

export function Play({ utterance }: { utterance: Utterance }) {
  const house = useHouse();
  const { tell } = useTell();
  const t = useText();
  return (
    <button
      type="button"
      className="press"
      aria-label={t('play-of', { words: utterance.heard.text })}
      onClick={() => void playUtterance(house, utterance, t).then(tell)}
    >
      <svg viewBox="0 0 16 16" className="mark" aria-hidden="true">
        <path fill="currentColor" d="M3 1.5v13l11-6.5z" />
      </svg>
      {t('play')}
    </button>
  );
}

/** The whole walk, from the begin of its first recording; nothing where no sound was kept. */
export function PlayWalk({ talk }: { talk: Talk }) {
  const house = useHouse();
  const { tell } = useTell();
  const t = useText();
  const told = useLive(house.player.told);
  const playing = useLive(house.player.at) !== null || told !== null;
  const first = talk.utterances.find((u) => u.heard.sound !== null)?.heard.sound ?? null;
  if (first === null) {
    return <p className="quiet noprint">{t('play-none')}</p>;
  }
  const press = () =>
    playing
      ? house.player.stop()
      : void house.player.play({ recording: first.recording, from: 0, to: first.to }).then(tell);
  return (
    <div className="play-walk noprint">
      <button type="button" className="press" onClick={press}>
        {t(playing ? 'stop' : 'play-walk')}
      </button>
      {/* Spoken where there is a voice; read out by a screen reader only where there is none. */}
      <p className="replied" role={told?.aloud === true ? undefined : 'status'}>
        {told !== null && replyWords({ ...told, how: told.aloud ? 'spoken' : 'none' }, t)}
      </p>
    </div>
  );
}

export function playUtterance(house: Services, utterance: Utterance, t: Text) {
  const place = utterance.heard.sound;
  if (place === null) {
    return Promise.resolve({
      ok: false as const,
      error: t('play-not-kept'),
    });
  }
  return house.player.play(place);
}

/** The words, each lit while it sounds. */
function Lit({ utterance }: { utterance: Utterance }) {
  const now = useLive(useHouse().player.at);
  const { heard } = utterance;
  const place = heard.sound;
  const sounds =
    now !== null &&
    place !== null &&
    now.recording === place.recording &&
    now.seconds >= place.from - 0.05 &&
    now.seconds <= place.to + 0.2;
  if (!sounds || heard.words.length === 0) {
    return <span className={`words${sounds ? ' lit' : ''}`}>{heard.text}</span>;
  }
  // Words are timed by the walk, the sound by its recording: both begin together at the utterance.
  const at = now.seconds - place.from + (heard.from ?? 0);
  return (
    <span className="words">
      {heard.words.map((w, i) => (
        <span
          key={i}
          className={w.from !== null && w.to !== null && at >= w.from && at < w.to ? 'lit' : ''}
        >
          {w.text}{' '}
        </span>
      ))}
    </span>
  );
}
