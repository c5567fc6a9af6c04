export { App } from './App.tsx';
export type * from './services.ts';
export { EAR_WORDS, statementsOf } from './services.ts';
