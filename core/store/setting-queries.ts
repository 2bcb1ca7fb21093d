import { settingsSchema, type Settings } from '../contract/entities.ts';
import type { Db } from './tables.ts';

/** The company's settings; a setting the book does not hold yet has its default. */
export async function readSettings(db: Db): Promise<Settings> {
  const row = await db.selectFrom('setting').select('value').where('key', '=', 'company').executeTakeFirst();
  return settingsSchema.parse(row ? JSON.parse(row.value) : {});
}

export async function writeSettings(db: Db, settings: Settings): Promise<void> {
  const value = JSON.stringify(settings);
  await db.insertInto('setting').values({ key: 'company', value }).onConflict((conflict) => conflict.column('key').doUpdateSet({ value })).execute();
}
