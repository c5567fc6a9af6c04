import { useEffect, useRef } from 'react';
import { useHouse } from '../parts/house.ts';
import { never, useLive } from '../parts/live.ts';

/** Begins when "begin" is said or the headset's button is pressed; whether it listens for that. */
export function useVoice(catalogue: string | undefined, begin: () => void): boolean {
  const voice = useHouse().beginByVoice;
  const latest = useRef(begin);
  useEffect(() => {
    latest.current = begin;
  });
  useEffect(
    () => (catalogue === undefined ? undefined : voice?.listen(catalogue, () => latest.current())),
    [voice, catalogue],
  );
  return useLive<boolean | null>(voice?.on ?? never) === true;
}
