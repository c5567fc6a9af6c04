import { useEffect, useRef, useState } from 'react';
import type { Outcome } from '../services.ts';

/**
 * What the school answers, asked again whenever `news` changes; the answer before
 * stays until the next is there.
 */
export function useAsked<T>(ask: () => Promise<Outcome<T>>, news: number): Outcome<T> | null {
  const [answer, setAnswer] = useState<Outcome<T> | null>(null);
  const latest = useRef(ask);
  useEffect(() => {
    latest.current = ask;
  });
  useEffect(() => {
    let gone = false;
    void latest.current().then((outcome) => {
      if (!gone) setAnswer(outcome);
    });
    return () => {
      gone = true;
    };
  }, [news]);
  return answer;
}
