import type { Room } from '../room.ts';

export const ledger = {} satisfies Room;
