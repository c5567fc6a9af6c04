/**
 * How big a catalogue may be. A catalogue is hostile until it has been read: it
 * may come from anybody. Too low a limit refuses an honest author, who is told
 * the number; too high a limit lets a file freeze the app on the ramp.
 */

/**
 * Characters of one file. The largest of our own has about 60,000; 5,000 checks
 * with rich names need about 1.5 million.
 */
export const MAX_CHARACTERS = 2_000_000;

/** The reconciler is measured up to 5,000 checks; an annual inspection has some hundreds. */
export const MAX_CHECKS = 5_000;

/**
 * Levels of nesting. The format itself needs 10 (catalogue, stations, station,
 * checks, check, signs, sign, followUps, id, and one to spare). The YAML library
 * recurses and can take the whole process down with it, so depth is counted
 * before it reads.
 */
export const MAX_DEPTH = 24;

/** Columns of indentation: 24 levels of 8. */
export const MAX_INDENT = MAX_DEPTH * 8;

/** Places where `*name` repeats an `&name`. People write a handful. */
export const MAX_ALIASES = 200;

/**
 * Values after every alias is written out. An alias bomb multiplies: nine lines
 * of nine aliases make 387 million. 5,000 full checks make about 300,000.
 */
export const MAX_VALUES = 500_000;

/** Problems reported at once; an author mends some and reads again. */
export const MAX_PROBLEMS = 50;
