import { createContext, useContext } from 'react';
import type { Services } from '../services.ts';

export const House = createContext<Services | null>(null);

/** The services that App was given. Throws when a screen is used outside App: a mistake of ours. */
export function useHouse(): Services {
  const house = useContext(House);
  if (house === null) throw new Error('A screen needs <App services={…}> around it.');
  return house;
}
