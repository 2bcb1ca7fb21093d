import { settingsSchema, type Settings } from '../contract/entities.ts';
import type { Db } from './tables.ts';

// Nearly every request asks for them, and checking them costs more than most answers.
let last: { text: string; settings: Settings } | null = null;

/** The company's settings; a setting the book does not hold yet has its default. */
export async function readSettings(db: Db): Promise<Settings> {
  const row = await db.selectFrom('setting').select('value').where('key', '=', 'company').executeTakeFirst();
  const text = row?.value ?? '{}';
  if (last?.text !== text) last = { text, settings: settingsSchema.parse(JSON.parse(text)) };
  return { ...last.settings };
}

export async function writeSettings(db: Db, settings: Settings): Promise<void> {
  const value = JSON.stringify(settings);
  await db
    .insertInto('setting')
    .values({ key: 'company', value })
    .onConflict((conflict) => conflict.column('key').doUpdateSet({ value }))
    .execute();
}
