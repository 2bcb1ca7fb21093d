export {
  addProgram,
  addRevision,
  placeOfProgram,
  readProgram,
  readPrograms,
  revisionById,
  revisionOfEntry,
  voidRevisionsOf,
} from './queries.ts';
