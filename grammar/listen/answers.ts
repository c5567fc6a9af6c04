import type { Question } from '#shared/question';

/** Hubs that answer each kind of question; no more, because every other short word is one to be taken for. */
export const ANSWERED_BY: Readonly<Record<Question['kind'], readonly string[]>> = {
  'which-check': ['side', 'yes-no', 'nothing'],
  'which-instance': ['side', 'yes-no', 'nothing'],
  unit: ['number', 'just-unit', 'yes-no', 'nothing'],
  value: ['number', 'yes-no', 'nothing'],
  severity: ['yes-no', 'nothing'],
  polarity: ['yes-no', 'nothing'],
  place: ['side', 'yes-no', 'nothing'],
  recheck: ['still', 'yes-no'],
  recap: ['yes-no', 'side', 'nothing'],
  'which-fault': ['yes-no', 'side', 'nothing'],
  choice: ['yes-no', 'side', 'number', 'nothing'],
};
