import type { Replied } from '#shared/replied';
import { useHouse } from '../parts/house.ts';
import { useLive } from '../parts/live.ts';
import { useTell } from '../parts/Tell.tsx';
import type { Names } from '../parts/words.ts';
import { BY_WORDS, type Services } from '../services.ts';
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
  const { utterances, opening } = talk;
  if (utterances.length === 0) return <p>Nothing was heard on this walk.</p>;
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
  return of.map((r) => (
    <span key={r.from} className="replied small">
      {replyWords(r)}
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
  const { heard, statements } = utterance;
  return (
    <li className={picked ? 'picked' : ''}>
      <button type="button" className="line" aria-pressed={picked} onClick={pick}>
        <span className="number quiet">{at}</span>
        <span className="line-words">
          <Lit utterance={utterance} />
          <span className="quiet small">
            {statements.map((s) => readingWords(s, names)).join(' · ') ||
              (utterance.spokenOver
                ? 'Not taken: Talkround was speaking'
                : 'Nothing was read from it')}
          </span>
          <Replies of={utterance.replies} />
          {picked && (
            <span className="quiet small">
              {BY_WORDS[heard.by]}
              {heard.sentAway && ', left the device to be recognised'}
              {heard.alternatives.length > 0 &&
                `. Also heard as: ${heard.alternatives.map((a) => a.text).join('; ')}`}
            </span>
          )}
        </span>
      </button>
      {heard.sound !== null && <Play utterance={utterance} />}
    </li>
  );
}

export function Play({ utterance }: { utterance: Utterance }) {
  const house = useHouse();
  const { tell } = useTell();
  return (
    <button
      type="button"
      className="press"
      aria-label={`Play: ${utterance.heard.text}`}
      onClick={() => void playUtterance(house, utterance).then(tell)}
    >
      <svg viewBox="0 0 16 16" className="mark" aria-hidden="true">
        <path fill="currentColor" d="M3 1.5v13l11-6.5z" />
      </svg>
      Play
    </button>
  );
}

/** The whole walk, from the begin of its first recording; nothing where no sound was kept. */
export function PlayWalk({ talk }: { talk: Talk }) {
  const house = useHouse();
  const { tell } = useTell();
  const told = useLive(house.player.told);
  const playing = useLive(house.player.at) !== null || told !== null;
  const first = talk.utterances.find((u) => u.heard.sound !== null)?.heard.sound ?? null;
  if (first === null) {
    return (
      <p className="quiet noprint">No sound of this walk was kept; its words alone are here.</p>
    );
  }
  const press = () =>
    playing
      ? house.player.stop()
      : void house.player.play({ recording: first.recording, from: 0, to: first.to }).then(tell);
  return (
    <div className="play-walk noprint">
      <button type="button" className="press" onClick={press}>
        {playing ? 'Stop' : 'Play the walk'}
      </button>
      {/* Spoken where there is a voice; read out by a screen reader only where there is none. */}
      <p className="replied" role={told?.aloud === true ? undefined : 'status'}>
        {told !== null && replyWords({ ...told, how: told.aloud ? 'spoken' : 'none' })}
      </p>
    </div>
  );
}

export function playUtterance(house: Services, utterance: Utterance) {
  const place = utterance.heard.sound;
  if (place === null) {
    return Promise.resolve({
      ok: false as const,
      error: 'No sound was kept for these words. Sound can be kept under Settings.',
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
  const t = now.seconds - place.from + (heard.from ?? 0);
  return (
    <span className="words">
      {heard.words.map((w, i) => (
        <span
          key={i}
          className={w.from !== null && w.to !== null && t >= w.from && t < w.to ? 'lit' : ''}
        >
          {w.text}{' '}
        </span>
      ))}
    </span>
  );
}
