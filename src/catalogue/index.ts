/** The author's catalogue: read from YAML with every mistake named, and pinned by its content. */
export { parseCatalogue, type Parsed } from './parse.ts';
export type { Problem } from './problem.ts';
export { editionOf } from './edition.ts';
export { catalogueJsonSchema } from './schema.ts';
export { JASC, jascName } from './jasc.ts';
export type {
  Draft,
  DraftCheck,
  Drafted,
  DraftMeasure,
  DraftStation,
  LeftLine,
} from './workshop/draft.ts';
export { draftFrom, isAuthored } from './workshop/from-text.ts';
export { catalogueYaml, draftYaml, freeId, LEFT_HEAD, TO_CONFIRM } from './workshop/write.ts';
export { draftFromTalk } from './workshop/dictated.ts';
export {
  edited,
  fieldsAt,
  outlineOf,
  toConfirm,
  type Edit,
  type Edited,
  type Outline,
} from './workshop/edit.ts';
export { listEdits, renamed } from './workshop/list-edits.ts';
export { differences } from './workshop/differences.ts';
export { fieldsFor, type FieldHelp } from './workshop/help.ts';
export { isParcel, keyWords, parcelHash, readParcel, type Parcel } from './workshop/parcel.ts';
export { mapAt } from './workshop/where.ts';
