export { createGrammar, type Grammar } from './grammar.ts';
export { lintCatalogue as lint, type LintProblem } from './lint.ts';
export type { JsgfOptions } from './jsgf.ts';
export type { BiasPhrase } from './bias.ts';
export type { Sample, SampleOf } from './sample.ts';
export { parseDictionary, type Pronunciations } from './sound/dictionary.ts';
export { scopeOf, type Scope } from './scope.ts';
export { statesIn, type StateFound } from './states.ts';
