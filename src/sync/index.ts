export {
  SchoolAway,
  SchoolSaidNo,
  schoolApi,
  type AircraftChange,
  type ApiParts,
  type InSchool,
  type PersonChange,
  type SchoolApi,
} from './api.ts';
export { keepGoing, SOON, type SyncState } from './keep-going.ts';
export { readNews } from './live.ts';
export { syncRound, type Progress, type SyncStore } from './step.ts';
