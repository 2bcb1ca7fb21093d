import type { Room } from '../room.ts';

export const office = {} satisfies Room;
