export { App } from './App.tsx';
export type * from './services.ts';
export { EAR_WORDS, PRACTICE, statementsOf } from './services.ts';
