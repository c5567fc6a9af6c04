export { coverageOf } from './coverage.ts';
export { studentOf, type Habit, type Student } from './student.ts';
export { FEWEST_MARKS, kappa, kappaOf, type Kappa } from './kappa.ts';
export { differencesIn, type Differences } from './differences.ts';
export { leftAt, leftText, openAtFinish } from './left.ts';
export { fold, inOrder, start, stateOf, step } from './step.ts';
export type { State } from './state.ts';
export {
  isCarried,
  NEXT_STEPS,
  overdueText,
  sameFaults,
  squawksOf,
  type Today,
} from './squawks.ts';
export { robustLine, trendsOf, type Trend, type TrendLine, type TrendPoint } from './trend.ts';
export { reviewsIn } from './reviews.ts';
export { recurringOf } from './recurring.ts';
