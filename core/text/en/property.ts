import type { Room } from '../room.ts';

export const property = {} satisfies Room;
