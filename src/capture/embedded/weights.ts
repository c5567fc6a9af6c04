/** A check set aside by mistake is not asked for again; one that has to be set aside twice costs a breath. */
export const UNFITTED = 0.001;

/** Likelihoods of what follows, set by hand from the sample walks' habits; the sums need not be 1. */
export const RESULT = {
  be: 0.25,
  general: 0.35,
  condition: 0.06,
  degree: 0.01,
  article: 0.02,
  absent: 0.12,
};
export const START = {
  name: 0.45,
  the: 0.3,
  talk: 0.05,
  everything: 0.03,
  now: 0.04,
  skip: 0.01,
  it: 0.02,
  order: 0.06,
  squawk: 0.02,
  loop: 0.1,
  end: 0.01,
};
