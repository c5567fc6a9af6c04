import { useState } from 'react';
import { useHouse } from '../parts/house.ts';
import { useLive } from '../parts/live.ts';
import { useTell } from '../parts/Tell.tsx';
import './school.css';

/** On a phone that is in: signs a desk in as its holder, once that was asked for. */
export default function Let({ code }: { code: string }) {
  const { school } = useHouse();
  const { tell } = useTell();
  const [given, setGiven] = useState(code);
  const [done, setDone] = useState<string | null>(null);
  if (school === undefined) return <p>This app cannot be in a school.</p>;
  return <LetForm {...{ school, given, setGiven, done, setDone, tell }} />;
}

type Parts = {
  school: NonNullable<ReturnType<typeof useHouse>['school']>;
  given: string;
  setGiven: (code: string) => void;
  done: string | null;
  setDone: (name: string) => void;
  tell: ReturnType<typeof useTell>['tell'];
};

function LetForm({ school, given, setGiven, done, setDone, tell }: Parts) {
  const { hello } = useLive(school.view);
  if (done !== null) return <p role="status">{done} is signed in as you for a working day.</p>;
  const sign = async () => {
    const outcome = await school.letDeskIn(given.trim());
    if (tell(outcome) && outcome.ok) setDone(outcome.value.name);
  };
  return (
    <div className="school">
      <header className="head">
        <h1>Sign a desk in</h1>
      </header>
      <p>
        The desk that shows this code will see and do what{' '}
        {hello?.person?.name ?? 'the holder of this phone'} may. Do it only when you stand before
        it.
      </p>
      <label className="field">
        <span>Code on the desk’s screen</span>
        <input
          value={given}
          inputMode="numeric"
          autoComplete="one-time-code"
          onChange={(e) => setGiven(e.target.value)}
        />
      </label>
      <div className="tools">
        <button type="button" className="press main" onClick={() => void sign()}>
          Sign this desk in as me
        </button>
      </div>
    </div>
  );
}
