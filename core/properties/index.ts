export {
  readController,
  readControllers,
  readProperty,
  readRestriction,
  readRoute,
  readSensors,
  readSiblings,
  readZones,
  stopFacts,
} from './queries.ts';
export { readZone, sensorProperty } from './zone-queries.ts';
