export { type Site, dueItem } from './due-item.ts';
export { dueJudge, seasonOn } from './due.ts';
export { readDueFacts } from './queries.ts';
