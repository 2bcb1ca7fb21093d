import type { Room } from '../room.ts';

export const book = {} satisfies Room;
