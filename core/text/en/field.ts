import type { Room } from '../room.ts';

export const field = {} satisfies Room;
