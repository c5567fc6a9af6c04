import {
  createContext,
  useCallback,
  useContext,
  useEffect,
  useMemo,
  useState,
  type ReactNode,
} from 'react';
import type { Outcome } from '../services.ts';
import { useText } from '../text/text.ts';

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

/**
 * How long a sentence stays, ms: twice the time of reading it at 200 words a
 * minute, and never under 6 s, since the eye is on the aircraft. Too short and a
 * refusal is missed; too long and it is pressed away for nothing.
 */
export function staysFor(text: string): number {
  const words = text.split(/\s+/).length;
  return Math.max(6000, words * 2 * (60_000 / 200));
}

/**
 * Where refusals appear: one sentence, above the screen and never over it. It
 * goes by itself, or when it is put away.
 */
export function TellPlace({ children }: { children: ReactNode }) {
  const t = useText();
  const [told, setTold] = useState<{ text: string; bad: boolean } | null>(null);
  const tell = useCallback((outcome: Outcome<unknown>) => {
    if (!outcome.ok) setTold({ text: outcome.error, bad: true });
    return outcome.ok;
  }, []);
  const say = useCallback((text: string) => setTold({ text, bad: false }), []);
  const teller = useMemo(() => ({ tell, say }), [tell, say]);
  useEffect(() => {
    if (told === null) return undefined;
    const timer = setTimeout(() => setTold(null), staysFor(told.text));
    return () => clearTimeout(timer);
  }, [told]);
  return (
    <Told value={teller}>
      <div className="house">
        <div className="told noprint" role="status">
          {told !== null && (
            <div className={`notice${told.bad ? ' refused' : ''}`}>
              <p>{t.said(told.text)}</p>
              <button type="button" className="press" onClick={() => setTold(null)}>
                {t('understood')}
              </button>
            </div>
          )}
        </div>
        {children}
      </div>
    </Told>
  );
}
