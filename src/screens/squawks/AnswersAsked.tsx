import type { AnswersTaken, AnswersWay } from '../services.ts';

export interface Asked {
  readonly file: File;
  readonly how: AnswersWay;
  readonly taken: AnswersTaken;
}

/** What has to be asked about a mechanic's file: nothing in it is guessed, and nothing lost. */
export function AnswersAsked({
  asked: { file, how, taken },
  again,
  leave,
}: {
  asked: Asked;
  again: (how: AnswersWay) => void;
  leave: () => void;
}) {
  const { asks, doubts } = taken;
  if (asks !== undefined) {
    return (
      <section className="asked" aria-labelledby="asked-dates">
        <h2 id="asked-dates">
          Which day is “{asks.written}” in {file.name}?
        </h2>
        <p>Nothing is taken before that is known.</p>
        <div className="tools">
          <button
            type="button"
            className="press"
            onClick={() => again({ ...how, order: 'day-first' })}
          >
            {longDay(asks.dayFirst)}
          </button>
          <button
            type="button"
            className="press"
            onClick={() => again({ ...how, order: 'month-first' })}
          >
            {longDay(asks.monthFirst)}
          </button>
          <button type="button" className="press" onClick={leave}>
            Leave the file
          </button>
        </div>
      </section>
    );
  }
  if (doubts === undefined) return null;
  return (
    <section className="asked" aria-labelledby="asked-doubts">
      <h2 id="asked-doubts">Not taken yet from {file.name}</h2>
      <ul className="lines">
        {doubts.map((why) => (
          <li key={why}>{why}</li>
        ))}
      </ul>
      <div className="tools">
        <button type="button" className="press" onClick={() => again({ ...how, doubted: true })}>
          Take them as they stand
        </button>
        <button type="button" className="press" onClick={leave}>
          Leave them
        </button>
      </div>
    </section>
  );
}

/** "3 April 2026": it cannot be taken for another day. */
function longDay(day: string): string {
  return new Date(`${day}T12:00:00Z`).toLocaleDateString('en-GB', {
    day: 'numeric',
    month: 'long',
    year: 'numeric',
    timeZone: 'UTC',
  });
}
