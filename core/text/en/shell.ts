import type { Room } from '../room.ts';

export const shell = {} satisfies Room;
