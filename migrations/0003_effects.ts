import { sql, type Kysely } from 'kysely';
import { deriveBases } from '../core/store/effects-upgrade.ts';
import type { Migration } from '../core/store/migration.ts';

// Why: a catch-can audit wrote its rate over the zone's, and a sensor check its set points over the sensor's, so that
// nothing knew any more what the office had said: a void of the older of two audits put the table's rate back although
// the newer stood, an audit logged late hid a newer one, and a void check left its set points. Now the office's own
// values are kept in base… columns with the day and place they were said, and the others follow from them and the
// ledger, as battery dates do. The table of findings is a projection too.

export const migration: Migration = {
  number: 3,
  name: '0003_effects',
  reason: 'What the office said of rates and set points is kept beside what the ledger says; findings have a table.',
  async up(db: Kysely<any>) {
    await db.schema
      .alterTable('zone')
      .addColumn('basePrMethod', 'text', (c) => c.notNull().defaultTo('table'))
      .execute();
    await addColumns(db, 'zone', [
      ['basePrecipitationRateInPerHour', 'real'],
      ['baseDistributionUniformity', 'real'],
      ['baseRateOn', 'text'],
      ['baseRatePlace', 'integer'],
    ]);
    await addColumns(db, 'sensor', [
      ['baseRainSetPointInches', 'real'],
      ['baseRainSetPointOn', 'text'],
      ['baseRainSetPointPlace', 'integer'],
      ['baseFreezeSetPointF', 'real'],
      ['baseFreezeSetPointOn', 'text'],
      ['baseFreezeSetPointPlace', 'integer'],
    ]);
    await db.schema
      .createTable('finding')
      .addColumn('id', 'text', (c) => c.primaryKey().references('ledgerEntry.id'))
      .addColumn('propertyId', 'text', (c) => c.notNull().references('property.id'))
      .addColumn('entryId', 'text', (c) => c.notNull().references('ledgerEntry.id'))
      .addColumn('closedByEntryId', 'text', (c) => c.references('ledgerEntry.id'))
      .modifyEnd(sql`WITHOUT ROWID`)
      .execute();
    await db.schema.createIndex('findingProperty').on('finding').columns(['propertyId', 'closedByEntryId']).execute();
    await deriveBases(db);
  },
};

async function addColumns(
  db: Kysely<any>,
  table: string,
  columns: readonly (readonly [name: string, type: 'real' | 'text' | 'integer'])[],
): Promise<void> {
  for (const [name, type] of columns) await db.schema.alterTable(table).addColumn(name, type).execute();
}
