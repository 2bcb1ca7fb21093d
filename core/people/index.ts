export { readPeople, readTechnician, readTechnicians } from './queries.ts';
