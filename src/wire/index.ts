/** Where the stages are joined: used by src/main.tsx and src/cli/ alike. */
export { realWorld } from './world.ts';
export { openChecks, walkThrough, type WholeWalk } from './whole-walk.ts';
export { hashOfScores, withName } from './read-by.ts';
export { listeningParts } from './listening-parts.ts';
