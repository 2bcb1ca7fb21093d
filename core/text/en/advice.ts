import type { Room } from '../room.ts';

export const advice = {} satisfies Room;
