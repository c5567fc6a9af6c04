export { createGrammar, type Grammar } from './grammar.ts';
export { parseDictionary, type Pronunciations } from './sound/dictionary.ts';
export { scopeOf, type Scope } from './scope.ts';
