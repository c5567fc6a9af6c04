export {
  createSession,
  type Beginning,
  type Happened,
  type Parts,
  type Session,
} from './session.ts';
export { happeningsOf } from './drafts.ts';
export { ask, QUESTIONS, questionsOf, type Row } from './questions.ts';
export { ECHO_SECONDS, isOwnVoice, type Window } from './gate.ts';
export { faultOf, openedAsSaid, squawkSteps, writtenUp, type Told } from './squawk.ts';
export { freeFault, partIn, placesIn, type StateSaid } from './free-fault.ts';
export { checkNamed, faultsIn, type AmountSaid, type Dictating } from './said-faults.ts';
export { tradeStates, writtenOut } from './trade.ts';
export { aircraftSaid, sameRegistration, spelled, type SaidAircraft } from './spelling.ts';
