import {
  chmodSync,
  copyFileSync,
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  statSync,
  truncateSync,
  writeFileSync,
} from 'node:fs';
import { join } from 'node:path';
import { parse } from 'csv-parse/sync';
import { strFromU8, unzipSync } from 'fflate';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { prepareRestore, restoreBook, takePlace } from '../../core/desk/restore.ts';
import { stripFormulaGuard } from '../../core/csv/formula-guard.ts';
import { TABLE_KEYS, TABLE_NAMES } from '../../core/book/export-queries.ts';
import { readSeal } from '../../core/store/chain-queries.ts';
import { openForReading, openForWriting, SCHEMA_VERSION } from '../../core/book/migrate.ts';
import { connect } from '../../core/store/sqlite.ts';
import { plantGround } from './ground.ts';
import { settingsSchema } from '../../core/settings/contract.ts';
import { readSettings, writeSettings } from '../../core/settings/queries.ts';
import { base64, makeBook, unwatched, type TestBook } from './job-context.ts';

let book: TestBook;
beforeEach(async () => void (book = await makeBook()));
afterEach(() => book.close());

const everyFile = (folder: string): string[] =>
  readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => join(entry.parentPath, entry.name))
    .sort();

async function fill(): Promise<void> {
  await plantGround(book);
  const csv =
    'client,street,notes,zip,latitude\n"=HYPERLINK(""x"")",1 Oak St,"one, ""two""\nthree",02134,40.123456789\n"Zoë ""Z"" Müller",2 Oak St,-5 off,80501,\n';
  await book.run('import.apply', { bytesBase64: base64(csv) });
  await book.run('import.apply', {
    target: 'work',
    bytesBase64: base64('account,date,work,note\n1001,10/14/2024,winterized,ok\n1001,4/14/2025,start up,\n'),
  });
}

/** A table's CSV read back by other code than wrote it: text in quotes, numbers bare, nothing = not known. */
function readBack(csv: string): Record<string, unknown>[] {
  return parse(csv, {
    bom: true,
    columns: true,
    cast: (value, { quoting, header }) =>
      header || quoting ? stripFormulaGuard(value) : value === '' ? null : Number(value),
  });
}

describe('export', () => {
  it('read back equals every table', async () => {
    await fill();
    const everything = await book.everything();
    const result = await book.run('export.book', {});
    expect(result.path).toBe(join(book.folder, 'exports', 'My-company-2026-03-02.zip'));
    expect(result.bytes).toBe(statSync(result.path).size);
    const files = unzipSync(readFileSync(result.path));
    expect(Object.keys(files)).toEqual(['README.txt', ...TABLE_NAMES.map((name) => `${name}.csv`)]);
    for (const table of TABLE_NAMES) {
      const byKey = (rows: any[]) =>
        [...rows].sort((a, b) =>
          TABLE_KEYS[table].map((key) => a[key]).join(' ') < TABLE_KEYS[table].map((key) => b[key]).join(' ') ? -1 : 1,
        );
      const rows = readBack(strFromU8(files[`${table}.csv`]!));
      expect(byKey(rows), table).toEqual(byKey(everything[table]!));
      expect(result.tables.find((one) => one.name === table)!.rows).toBe(rows.length);
    }
    const client = strFromU8(files['client.csv']!);
    expect([...files['client.csv']!.subarray(0, 3)]).toEqual([0xef, 0xbb, 0xbf]);
    expect(client).toContain('"\'=HYPERLINK(""x"")"');
    expect(client).not.toMatch(/(^|,)"[=+\-@]/m);
    const readme = strFromU8(files['README.txt']!);
    for (const table of TABLE_NAMES) expect(readme).toContain(`${table}.csv`);
    expect(readme).toContain('areaFt2: square feet');
    const { count, seal } = await readSeal(book.connection.db);
    expect(readme).toContain(`Seal of the book over ${count} ledger entries and program revisions: ${seal}`);
  });

  it('explains itself in the language that is asked for, else in the company’s', async () => {
    const readmeOf = async (input: { language?: 'en' | 'es' }) => {
      const { path } = await book.run('export.book', input);
      return strFromU8(unzipSync(readFileSync(path))['README.txt']!);
    };
    const spanish = await readmeOf({ language: 'es' });
    const { count, seal } = await readSeal(book.connection.db);
    expect(spanish).toContain(`Sello del libro sobre ${count} entradas del registro y revisiones de programa: ${seal}`);
    expect(spanish).toContain('areaFt2: pies cuadrados');
    for (const table of TABLE_NAMES)
      expect(spanish).toMatch(new RegExp(`^${table}\\.csv {2}\\(\\d+ filas?\\)\r?$`, 'm'));
    expect(spanish).not.toMatch(/\b(?:the|and|which|square|rows)\b/);
    expect(await readmeOf({})).toContain('areaFt2: square feet');
  });

  it('has every page of a long table, once', async () => {
    const rows = Array.from({ length: 4501 }, (_, index) => `Client ${index},${index} Oak St`).join('\n');
    await book.run('import.apply', { bytesBase64: base64(`name,street\n${rows}\n`) });
    const { stationId } = await plantGround(book);
    const days = Array.from(
      { length: 4100 },
      (_, index) => `${new Date(Date.UTC(2010, 0, 1 + index)).toISOString().slice(0, 10)},${index % 90}`,
    ).join('\n');
    await book.run('import.apply', { target: 'weather', stationId, bytesBase64: base64(`date,tmax f\n${days}\n`) });
    const files = unzipSync(readFileSync((await book.run('export.book', {})).path));
    const names = readBack(strFromU8(files['client.csv']!)).map((row) => row['name']);
    expect(names).toHaveLength(4503);
    expect(new Set(names).size).toBe(4503);
    const dates = readBack(strFromU8(files['weatherDay.csv']!)).map((row) => row['date']);
    expect([dates.length, new Set(dates).size]).toEqual([4100, 4100]);
  });

  it('comes back as a client list', async () => {
    await fill();
    const files = unzipSync(readFileSync((await book.run('export.book', {})).path));
    const other = await makeBook();
    const csv = Buffer.from(
      strFromU8(files['property.csv']!).replace('clientId', 'account').replace('"label"', '"client name"'),
    );
    const result = await other.run('import.preview', { bytesBase64: base64(csv) });
    expect(result.columns.find((column) => column.header === 'street')).toMatchObject({ field: 'street' });
    await other.close();
    const clients = await book.run('import.preview', {
      bytesBase64: base64(Buffer.from(files['client.csv']!)),
      mapping: { 1: 'clientName', 6: 'street' },
    });
    expect(clients.sample.map((row) => row['Client name'])).not.toContain('\'=HYPERLINK("x")');
  });

  it('never writes over a file, and leaves none behind when it cannot be written', async () => {
    const taken = join(book.folder, 'taken.zip');
    writeFileSync(taken, 'mine');
    await expect(book.run('export.book', { toPath: taken })).rejects.toMatchObject({ code: 'disk', field: 'toPath' });
    expect(readFileSync(taken, 'utf8')).toBe('mine');
    const before = everyFile(book.folder);
    await expect(book.run('export.book', { toPath: join(book.folder, 'no', 'such', 'x.zip') })).rejects.toMatchObject({
      code: 'disk',
      field: 'toPath',
    });
    await expect(book.run('export.book', { toPath: join(taken, 'x.zip') })).rejects.toMatchObject({
      code: 'disk',
      field: 'toPath',
    });
    await fill();
    book.cancelAfter = 0;
    await expect(book.run('export.book', { toPath: join(book.folder, 'x.zip') })).rejects.toMatchObject({
      code: 'cancelled',
    });
    expect(everyFile(book.folder)).toEqual(before);
    book.cancelAfter = null;
    const first = await book.run('export.book', {});
    const second = await book.run('export.book', {});
    expect(second.path).not.toBe(first.path);
  });
});

describe('backup', () => {
  it('is a whole book of the same content, in the backups folder', async () => {
    await fill();
    const result = await book.run('book.backup', {});
    expect(result.path).toMatch(/backups\/company-\d{4}-\d\d-\d\d-\d{6}\.valvebook$/);
    expect(result.bytes).toBe(statSync(result.path).size);
    const copy = await openForReading(result.path);
    for (const table of TABLE_NAMES)
      expect(await copy.db.selectFrom(table).selectAll().execute(), table).toEqual((await book.everything())[table]);
    const { count, seal } = await readSeal(copy.db);
    await copy.close();
    const lines = readFileSync(result.sealPath!, 'utf8');
    expect(result.sealPath).toBe(`${result.path}.seal.txt`);
    expect(lines).toContain(`date   2026-03-02\r\ncount  ${count}\r\nseal   ${seal}\r\n`);
    expect(readdirSync(join(book.folder, 'backups')).filter((name) => name.endsWith('.part'))).toEqual([]);
  });

  it('goes to a path, never over a file, and leaves nothing behind when refused', async () => {
    const path = join(book.folder, 'elsewhere.valvebook');
    expect((await book.run('book.backup', { toPath: path })).path).toBe(path);
    const bytes = readFileSync(path);
    await expect(book.run('book.backup', { toPath: path })).rejects.toMatchObject({ code: 'disk', field: 'toPath' });
    await expect(book.run('book.backup', { toPath: book.path })).rejects.toMatchObject({
      code: 'disk',
      field: 'toPath',
    });
    await expect(book.run('book.backup', { toPath: join(path, 'x.valvebook') })).rejects.toMatchObject({
      code: 'disk',
    });
    expect(readFileSync(path).equals(bytes)).toBe(true);
    mkdirSync(join(book.folder, 'folder'));
    await expect(book.run('book.backup', { toPath: join(book.folder, 'folder') })).rejects.toMatchObject({
      code: 'disk',
    });
    expect(everyFile(book.folder).filter((name) => name.includes('.part'))).toEqual([]);
  });
});

describe('restore', () => {
  const names = async (path: string) => {
    const connection = await openForWriting(path, false);
    try {
      return (await connection.db.selectFrom('client').select('name').orderBy('name').execute()).map((row) => row.name);
    } finally {
      await connection.close();
    }
  };
  const add = (name: string) => book.run('import.apply', { bytesBase64: base64(`name,street\n${name},1 Oak St\n`) });
  /** The desk closes its connections before; opened again so that `close` after the test has something to close. */
  async function restore(fromPath: string) {
    await book.connection.close();
    try {
      return await restoreBook(unwatched, { bookPath: book.path, fromPath });
    } finally {
      Object.assign(book.connection, await openForWriting(book.path, false));
    }
  }

  it('puts a backup in place of the book and keeps that one', async () => {
    await add('First');
    const { path: backup } = await book.run('book.backup', {});
    await add('Second');
    const result = await restore(backup);
    expect(result.restoredFrom).toBe(backup);
    expect(result.previousSavedAs).toMatch(/backups\/company-before-restore-.*\.valvebook$/);
    expect(await names(result.previousSavedAs)).toEqual(['First', 'Second']);
    expect(await names(backup)).toEqual(['First']);
    await book.connection.close();
    expect(await names(book.path)).toEqual(['First']);
    expect(readdirSync(book.folder).filter((name) => name.includes('restoring'))).toEqual([]);
    Object.assign(book.connection, await openForWriting(book.path, false));
    const back = await restore(result.previousSavedAs);
    await book.connection.close();
    expect(await names(book.path)).toEqual(['First', 'Second']);
    expect(existsSync(back.previousSavedAs)).toBe(true);
    Object.assign(book.connection, await openForWriting(book.path, false));
  });

  it('keeps when and where backups are made as it was chosen here, and says so where the backup had it otherwise', async () => {
    const choose = async (backups: object) => {
      const { db } = book.connection;
      await writeSettings(
        db,
        settingsSchema.parse({ ...(await readSettings(db)), backups, companyName: 'Fair Water' }),
      );
    };
    await choose({ automatic: false, secondFolder: '/mnt/elsewhere' });
    const { path: backup } = await book.run('book.backup', {});
    await choose({ automatic: true, keepDays: 9 });
    expect(await restore(backup)).toMatchObject({ keptBackupChoices: true });
    expect(await readSettings(book.connection.db)).toMatchObject({
      companyName: 'Fair Water',
      backups: { automatic: true, keepDays: 9, secondFolder: '' },
    });
    const { path: same } = await book.run('book.backup', {});
    expect(await restore(same)).toMatchObject({ keptBackupChoices: false });
  });

  it('takes the last writes of a backup that was not closed cleanly', async () => {
    const path = join(book.folder, 'other.valvebook');
    const other = await openForWriting(path, true);
    await other.db
      .insertInto('route')
      .values({ id: '01M89G142THQ4T01D3AF4RW5DM', name: 'North', technicianId: null })
      .execute();
    expect(statSync(`${path}-wal`).size).toBeGreaterThan(0);
    // As a power cut would leave it; the open one itself is left alone.
    const left = join(book.folder, 'left.valvebook');
    for (const end of ['', '-wal']) copyFileSync(`${path}${end}`, `${left}${end}`);
    await expect(restore(path)).rejects.toMatchObject({ code: 'conflict' });
    await other.close();
    await restore(left);
    expect(await book.connection.db.selectFrom('route').select('name').execute()).toEqual([{ name: 'North' }]);
  });

  it('makes a writable book of a backup that is kept read-only', async () => {
    await add('First');
    const backup = (await book.run('book.backup', {})).path;
    chmodSync(backup, 0o444);
    await restore(backup);
    expect(statSync(book.path).mode & 0o600).toBe(0o600);
    expect(statSync(backup).mode & 0o777).toBe(0o444);
  });

  it('refuses what is no good backup, and changes nothing', async () => {
    await add('First');
    const good = (await book.run('book.backup', {})).path;
    const at = (name: string) => join(book.folder, name);
    writeFileSync(
      at('text.valvebook'),
      'not a book at all, but long enough to hold a header of seventy-two bytes and more',
    );
    writeFileSync(at('short.valvebook'), readFileSync(good));
    truncateSync(at('short.valvebook'), 20_000);
    const torn = Buffer.from(readFileSync(good));
    torn.fill(0xa5, 3 * 8192, 9 * 8192);
    writeFileSync(at('torn.valvebook'), torn);
    writeFileSync(at('newer.valvebook'), readFileSync(good));
    const newer = connect(at('newer.valvebook'), 'write');
    newer.raw.pragma(`user_version = ${SCHEMA_VERSION + 1}`);
    await newer.close();
    const dangling = at('dangling.valvebook');
    writeFileSync(dangling, readFileSync(good));
    const loose = connect(dangling, 'write');
    loose.raw.pragma('foreign_keys = OFF');
    await loose.db.deleteFrom('client').execute();
    await loose.close();

    const before = await book.everything();
    const files = everyFile(book.folder).filter((name) => !/-(wal|shm)$/.test(name));
    for (const [name, code, sentence] of [
      ['text.valvebook', 'book-unreadable', /not a Valvebook book/],
      ['short.valvebook', 'book-unreadable', /cut short/],
      ['torn.valvebook', 'book-unreadable', /damaged/],
      ['newer.valvebook', 'book-unreadable', /newer Valvebook/],
      ['dangling.valvebook', 'book-unreadable', /does not exist/],
      ['missing.valvebook', 'not-found', /no book/],
      ['company.valvebook', 'conflict', /open book itself/],
      ['', 'book-unreadable', /not a file/],
    ] as const) {
      await expect(restore(join(book.folder, name)), name).rejects.toMatchObject({
        code,
        message: expect.stringMatching(sentence),
      });
      expect(await book.everything()).toEqual(before);
      expect(everyFile(book.folder).filter((file) => !/-(wal|shm)$/.test(file))).toEqual(files);
    }
  });

  it('replaces even a damaged book, and keeps that byte for byte', async () => {
    await add('First');
    const backup = (await book.run('book.backup', {})).path;
    await book.connection.close();
    const damaged = Buffer.from(readFileSync(book.path));
    damaged.fill(0x11, 0, damaged.length);
    writeFileSync(book.path, damaged);
    const { previousSavedAs } = await restoreBook(unwatched, { bookPath: book.path, fromPath: backup });
    expect(readFileSync(previousSavedAs).equals(damaged)).toBe(true);
    expect(await names(book.path)).toEqual(['First']);
    Object.assign(book.connection, await openForWriting(book.path, false));
  });

  it('puts the book back when what took its place does not open', async () => {
    await add('First');
    const backup = (await book.run('book.backup', {})).path;
    await add('Second');
    await book.connection.close();
    const prepared = await prepareRestore(unwatched, { bookPath: book.path, fromPath: backup });
    // As a disk does that loses what it said it had kept.
    writeFileSync(prepared.temporary, 'not a book at all'.repeat(100));
    await expect(takePlace(book.path, prepared)).rejects.toMatchObject({
      code: 'book-unreadable',
      message: expect.stringMatching(/the book is as it was before/),
    });
    expect(await names(book.path)).toEqual(['First', 'Second']);
    expect(everyFile(book.folder).filter((name) => /restoring|part/.test(name))).toEqual([]);
    Object.assign(book.connection, await openForWriting(book.path, false));
  });

  it('two backups of one moment get two names, whoever makes them', async () => {
    await add('First');
    const made = await Promise.all([
      book.run('book.backup', {}),
      book.run('book.backup', {}),
      book.run('book.backup', {}),
    ]);
    expect(new Set(made.map(({ path }) => path)).size).toBe(3);
    for (const { path, bytes } of made) expect(statSync(path).size).toBe(bytes);
  });
});
