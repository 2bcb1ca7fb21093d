import type { Kysely } from 'kysely';

/** One forward-only change of a book's shape. Never edited after release. */
export interface Migration {
  readonly number: number;
  readonly name: string;
  readonly reason: string;
  up(db: Kysely<any>): Promise<void>;
}
