import type { Room } from '../room.ts';

export const reviewProgram = {} satisfies Room;
