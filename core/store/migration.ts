import type { Kysely } from 'kysely';

/** How far a change of a large book is. Awaited, so that whoever shows it gets a turn; throws once it is to be stopped. */
export type TellHowFar = (done: number, total: number) => Promise<void>;

/** One forward-only change of a book's shape. Never edited after release. */
export interface Migration {
  readonly number: number;
  readonly name: string;
  readonly reason: string;
  up(db: Kysely<any>, tell: TellHowFar): Promise<void>;
}
