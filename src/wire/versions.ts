/** Which code folds: made by the build out of the sources of reconciler and contracts. */
declare const __FOLDED_BY__: string;

/**
 * What a kept fold is a fold of and by: another reading of the same events, by a
 * newer reconciler, is never shown under an old figure.
 */
export const FOLDED_BY: string = __FOLDED_BY__;
