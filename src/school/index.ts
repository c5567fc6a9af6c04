export { openDatabase, type Database } from './database.ts';
export { folderBlobs, s3Blobs, type Blobs } from './blobs.ts';
export { realClock, type Clock } from './clock.ts';
export { chiefsCode, FIRST_TERMS, foundSchool, onlySchool } from './found.ts';
export { schoolHandler, type Handler } from './handler.ts';
export { newsFrom, tell } from './news.ts';
export { eraseExpired } from './own.ts';
export type { LogLine, Parts } from './parts.ts';
