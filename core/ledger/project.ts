export { projectBackflow, projectSeasons, projectSensors } from '../store/projections.ts';
