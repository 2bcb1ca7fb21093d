import type { Room } from '../room.ts';

export const imports = {} satisfies Room;
