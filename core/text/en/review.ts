import type { Room } from '../room.ts';

export const review = {} satisfies Room;
