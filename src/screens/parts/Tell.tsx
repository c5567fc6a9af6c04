import { createContext, useCallback, useContext, useMemo, useState, type ReactNode } from 'react';
import type { Outcome } from '../services.ts';

interface Teller {
  /** Shows the sentence of a refusal; returns whether it went well. */
  tell(outcome: Outcome<unknown>): boolean;
  /** Shows a sentence that is not a refusal. */
  say(text: string): void;
}

const Told = createContext<Teller>({ tell: (o) => o.ok, say: () => undefined });

export function useTell(): Teller {
  return useContext(Told);
}

/** Where refusals appear: one sentence, until it is put away. */
export function TellPlace({ children }: { children: ReactNode }) {
  const [told, setTold] = useState<{ text: string; bad: boolean } | null>(null);
  const tell = useCallback((outcome: Outcome<unknown>) => {
    if (!outcome.ok) setTold({ text: outcome.error, bad: true });
    return outcome.ok;
  }, []);
  const say = useCallback((text: string) => setTold({ text, bad: false }), []);
  const teller = useMemo(() => ({ tell, say }), [tell, say]);
  return (
    <Told value={teller}>
      {children}
      <div className="told noprint" role="status">
        {told !== null && (
          <div className={`notice${told.bad ? ' refused' : ''}`}>
            <p>{told.text}</p>
            <button type="button" className="press" onClick={() => setTold(null)}>
              Understood
            </button>
          </div>
        )}
      </div>
    </Told>
  );
}
