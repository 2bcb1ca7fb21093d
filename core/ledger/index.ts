export { Recount, type SeasonFacts, type Target, targetsOf } from './effects.ts';
export { findingOf, openFindingIds } from './finding-queries.ts';
export {
  SENSOR_BASE,
  ZONE_BASE,
  project,
  projectDaysWithSeveral,
  projectWork,
  sensorBaseOf,
  zoneBaseOf,
} from './projections.ts';
export { appendEntry, latestEntries, latestOfKind, readEntries, readEntry, visitHasEntry } from './queries.ts';
export { seasonsOfProperty } from './season-queries.ts';
export { summarize } from './summarize.ts';
export { standing, stands } from './standing.ts';
export { isStanding } from './standing-queries.ts';
