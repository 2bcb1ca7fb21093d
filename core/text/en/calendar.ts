import type { Room } from '../room.ts';

export const calendar = {} satisfies Room;
