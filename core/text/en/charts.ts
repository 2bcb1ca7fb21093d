import type { Room } from '../room.ts';

export const charts = {} satisfies Room;
