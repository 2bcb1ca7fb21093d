import { dateOfMonthDay } from '../dates.ts';
import { type Settings, settingsSchema, type Restriction, type ThumbRule } from './contract.ts';
import { toEntity, type Db, toRow } from '../store/tables.ts';
import { upsert } from '../store/rows.ts';

// Nearly every request asks for them, and checking them costs more than most answers.
let last: { text: string; settings: Settings } | null = null;

/** The company's settings; a setting the book does not hold yet has its default. */
export async function readSettings(db: Db): Promise<Settings> {
  const row = await db.selectFrom('setting').select('value').where('key', '=', 'company').executeTakeFirst();
  const text = row?.value ?? '{}';
  if (last?.text !== text) last = { text, settings: settingsIn(JSON.parse(text)) };
  return { ...last.settings };
}

/**
 * Settings as a book holds them. An older Valvebook took days that no month has (11-31): such a day is read as the last of
 * its month, and the check of the book says so. Anything else that is wrong throws.
 */
function settingsIn(held: unknown): Settings {
  const parsed = settingsSchema.safeParse(held);
  if (parsed.success) return parsed.data;
  const mended: Record<string, unknown> = { ...(held as object) };
  for (const { path } of parsed.error.issues) {
    const lastDay = lastDayFor(mended[String(path[0])]);
    if (path.length === 1 && lastDay !== null) mended[String(path[0])] = lastDay;
  }
  return settingsSchema.parse(mended);
}

/** The last day of the month of MM-DD where the month has no such day in any year; null for anything else. */
export function lastDayFor(value: unknown): string | null {
  if (typeof value !== 'string' || !/^(0[1-9]|1[0-2])-(0[1-9]|[12]\d|3[01])$/.test(value)) return null;
  const lastDay = dateOfMonthDay(LEAP_YEAR, value).slice(5);
  return lastDay === value ? null : lastDay;
}

const LEAP_YEAR = 2000;

export async function writeSettings(db: Db, settings: Settings): Promise<void> {
  const value = JSON.stringify(settings);
  await db
    .insertInto('setting')
    .values({ key: 'company', value })
    .onConflict((conflict) => conflict.column('key').doUpdateSet({ value }))
    .execute();
}

export async function readRestrictions(db: Db): Promise<Restriction[]> {
  return (await db.selectFrom('restriction').selectAll().orderBy('name').execute()).map((row) =>
    toEntity<Restriction>('restriction', row),
  );
}

/** The company's own table, or null where it never saved one. */
export async function readThumbRules(db: Db): Promise<ThumbRule[] | null> {
  const rows = await db.selectFrom('thumbRule').selectAll().orderBy('position').execute();
  return rows.length === 0 ? null : rows.map((row) => toEntity<ThumbRule>('thumbRule', row));
}

export async function saveRestrictions(db: Db, restrictions: readonly Restriction[]): Promise<void> {
  for (const restriction of restrictions) await upsert(db, 'restriction', restriction);
}

export async function replaceThumbRules(db: Db, rules: readonly ThumbRule[]): Promise<void> {
  await db.deleteFrom('thumbRule').execute();
  if (rules.length > 0)
    await db
      .insertInto('thumbRule')
      .values(rules.map((rule, position) => ({ ...toRow('thumbRule', rule), position }) as any))
      .execute();
}
