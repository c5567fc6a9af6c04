import type { Question } from '#shared/question';

/** Hubs that answer each kind of question; no more, because every other short word is one to be taken for. */
export const ANSWERED_BY: Readonly<Record<Question['kind'], readonly string[]>> = {
  'which-check': ['side', 'yes-no', 'nothing', 'neither'],
  'which-instance': ['side', 'yes-no', 'nothing', 'neither'],
  unit: ['number', 'just-unit', 'yes-no', 'nothing'],
  value: ['number', 'yes-no', 'nothing'],
  severity: ['yes-no', 'nothing'],
  polarity: ['yes-no', 'nothing'],
  place: ['side', 'yes-no', 'nothing', 'neither'],
  recheck: ['still', 'yes-no'],
  recap: ['yes-no', 'side', 'nothing', 'neither'],
  'which-fault': ['yes-no', 'side', 'nothing', 'neither'],
  choice: ['yes-no', 'side', 'number', 'nothing', 'neither'],
};

/**
 * How much rarer "neither" and "don't know" are than the words that were offered. Higher, and a
 * "no" or a "left" in noise is taken for one of them; lower, and they are taken for an answer.
 */
export const RARE_ANSWER = 0.2;
