import { sql, type Kysely } from 'kysely';
import type { Migration } from '../core/store/migration.ts';

// Why: two zones in use on one station of a controller would be run by one valve wire, so forms and imports refuse them; but
// nothing in the book did, and whoever writes beside another (a second desk, a second program) could pass each other by. Not
// a unique index: a book that already holds such a pair must open, so that somebody can say which of the two is right.

const TAKEN = `NEW.retired = 0 AND EXISTS (SELECT 1 FROM zone
  WHERE controllerId = NEW.controllerId AND station = NEW.station AND retired = 0 AND id <> NEW.id)`;
const REFUSE = `BEGIN SELECT RAISE(ABORT, 'a station of a controller has one zone in use'); END`;

export const migration: Migration = {
  number: 4,
  name: '0004_stations',
  reason: 'No two zones in use take one station of a controller, whoever writes.',
  async up(db: Kysely<any>) {
    await sql.raw(`CREATE TRIGGER zoneStationTaken BEFORE INSERT ON zone WHEN ${TAKEN} ${REFUSE}`).execute(db);
    await sql
      .raw(
        `CREATE TRIGGER zoneStationMoved BEFORE UPDATE OF controllerId, station, retired ON zone
  WHEN (OLD.retired <> 0 OR OLD.station <> NEW.station OR OLD.controllerId <> NEW.controllerId) AND ${TAKEN} ${REFUSE}`,
      )
      .execute(db);
  },
};
