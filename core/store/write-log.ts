import type { BookTables, Db } from './tables.ts';

// The memory that makes a repeated write the same write: the first answer is kept and given again.

export async function findWrite(db: Db, writeId: string): Promise<BookTables['writeLog'] | undefined> {
  return db.selectFrom('writeLog').selectAll().where('writeId', '=', writeId).executeTakeFirst();
}

export async function keepWrite(db: Db, write: BookTables['writeLog']): Promise<void> {
  await db.insertInto('writeLog').values(write).execute();
}
