import type { Room } from '../room.ts';

export const errors = {} satisfies Room;
