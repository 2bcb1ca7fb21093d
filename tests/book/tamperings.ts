import Database from 'better-sqlite3';
import { ulid } from 'ulid';

// What somebody could do to the past in a book's file once its guards are off.

const TABLES = ['ledgerEntry', 'programRevision', 'programRun'] as const;

/** Every way to change one column of one row, and rows taken out, put in and exchanged; `pick` chooses the row. */
export function tamperings(path: string, pick: number): [what: string, work: (raw: Database.Database) => void][] {
  const raw = new Database(path, { readonly: true });
  const found: [string, (raw: Database.Database) => void][] = [];
  const key = (table: string) => (table === 'programRun' ? 'revisionId || zoneId' : 'id');
  for (const table of TABLES) {
    const rows = raw.prepare(`SELECT *, ${key(table)} AS theKey FROM ${table} ORDER BY ${key(table)}`).all() as Record<
      string,
      any
    >[];
    const row = rows[pick % rows.length]!;
    const other = rows[(pick + 1) % rows.length]!;
    const where = `WHERE ${key(table)} = ?`;
    for (const column of Object.keys(row)) {
      if (column === 'theKey') continue;
      const now = row[column];
      const news =
        typeof now === 'number'
          ? [now + 1, Infinity, 'x']
          : now === null
            ? [other[column] ?? 'x', 0, '']
            : [`${now} `, '', other[column] === now ? 'x' : other[column]];
      const value = news[pick % news.length];
      if (Object.is(value, now)) continue;
      found.push([
        `${table}.${column}: ${String(now)} → ${String(value)}`,
        (on) => void on.prepare(`UPDATE OR IGNORE ${table} SET ${column} = ? ${where}`).run(value, row['theKey']),
      ]);
    }
    found.push([
      `${table}: one taken out`,
      (on) => void on.prepare(`DELETE FROM ${table} ${where}`).run(row['theKey']),
    ]);
    if (table === 'programRun') continue;
    found.push(
      [
        `${table}: the last taken out`,
        (on) => void on.exec(`DELETE FROM ${table} WHERE bookPlace = (SELECT max(bookPlace) FROM ${table})`),
      ],
      [
        `${table}: the first taken out`,
        (on) => void on.exec(`DELETE FROM ${table} WHERE bookPlace = (SELECT min(bookPlace) FROM ${table})`),
      ],
      [
        `${table}: places exchanged`,
        (on) => {
          const change = on.prepare(`UPDATE ${table} SET bookPlace = ? WHERE id = ?`);
          change.run(other['bookPlace'], row['id']);
          change.run(row['bookPlace'], other['id']);
        },
      ],
      [
        `${table}: whole standings exchanged`,
        (on) => {
          const change = on.prepare(
            `UPDATE ${table} SET bookPlace = ?, place = ?, previousHash = ?, hash = ? WHERE id = ?`,
          );
          const standing = (one: Record<string, any>) => [
            one['bookPlace'],
            one['place'],
            one['previousHash'],
            one['hash'],
          ];
          change.run(...standing(other), row['id']);
          change.run(...standing(row), other['id']);
        },
      ],
    );
  }
  const columns = (raw.pragma('table_info(ledgerEntry)') as { name: string }[]).map((column) => column.name);
  const insert = (instead: Record<string, string>) => (on: Database.Database) =>
    void on.exec(
      `INSERT INTO ledgerEntry (${columns.join()}) SELECT ${columns.map((name) => instead[name] ?? name).join()} FROM ledgerEntry WHERE correctsId IS NULL ORDER BY id LIMIT 1 OFFSET ${pick % 2}`,
    );
  const old = { id: `'${ulid()}'`, doneOn: "'2021-05-05'", recordedAt: "'2021-05-05T10:00:00.000Z'" };
  const end = '(SELECT links + 1 FROM ledgerChain)';
  found.push(
    [
      'an old entry without a place',
      insert({ ...old, bookPlace: 'NULL', place: 'NULL', previousHash: 'NULL', hash: 'NULL' }),
    ],
    ['an old entry before the first', insert({ ...old, bookPlace: '0', place: '0' })],
    ['an old entry with numbers between', insert({ ...old, bookPlace: '1.5' })],
    [
      'an old entry after the last',
      insert({ ...old, bookPlace: end, place: '(SELECT max(place) + 1 FROM chainHead)' }),
    ],
    [
      'the ends of the chains',
      (on) => void on.exec("UPDATE chainHead SET hash = replace(hash, substr(hash, 1, 1), '-')"),
    ],
    ['the count', (on) => void on.exec('UPDATE ledgerChain SET links = links - 1')],
    ['no count', (on) => void on.exec('DELETE FROM ledgerChain')],
    ['no ends', (on) => void on.exec('DELETE FROM chainHead')],
  );
  raw.close();
  return found;
}
