export { App } from './App.tsx';
export type * from './services.ts';
export { PRACTICE, statementsOf } from './services.ts';
