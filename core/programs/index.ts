export {
  addProgram,
  addRevision,
  placeOfProgram,
  readProgram,
  readPrograms,
  revisionOfEntry,
  voidRevisionsOf,
} from './queries.ts';
