import type { Room } from '../room.ts';

export const terminal = {} satisfies Room;
