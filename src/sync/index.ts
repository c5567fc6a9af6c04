export {
  SchoolAway,
  SchoolSaidNo,
  schoolApi,
  type AircraftChange,
  type ApiParts,
  type InSchool,
  type Piece,
  type PersonChange,
  type SchoolApi,
} from './api.ts';
export { keepGoing, SOON, type SyncState } from './keep-going.ts';
export { readNews } from './live.ts';
export { PIECES, PIECE_BYTES } from './pieces.ts';
export { syncRound, type Progress, type SyncStore } from './step.ts';
