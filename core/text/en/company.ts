import type { Room } from '../room.ts';

export const company = {} satisfies Room;
