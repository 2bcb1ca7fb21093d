export {
  USUAL_MINUTES,
  insertVisit,
  isUnplanned,
  markUnplanned,
  mustReadVisit,
  placeInDay,
  plannedVisitOfKind,
  readVisit,
  readVisitsOfProperty,
  updateVisit,
} from './queries.ts';
