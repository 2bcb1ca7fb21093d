import { closeSync, statSync, writeSync } from 'node:fs';
import { strToU8, Zip, ZipDeflate } from 'fflate';
import type { JobHandler } from '../context.ts';
import { assertOwnName, fullPlaceOf, isDeviceName } from '../paths.ts';
import { createFile } from '../store/book-file.ts';
import { columnsOf, countRows, inSnapshot, pagesOf, TABLE_NAMES, type TableName } from './export-queries.ts';
import { readSeal } from '../store/chain-queries.ts';
import { readSettings } from '../settings/index.ts';
import { BYTE_ORDER_MARK, csvOf } from '../csv/index.ts';
import { exportReadme } from './export-readme.ts';
import { assertFree, pathsBeside, writeWhole } from './files.ts';
import { fact } from '../text/say.ts';

/** Writes every table as CSV into one zip: page by page, so that a book of any size fits in little memory. */
export const exportBook: JobHandler<'export.book'> = async (context, input) =>
  inSnapshot(context.db, async (db) => {
    const { companyName, language } = await readSettings(db);
    const company = { companyName, language: input.language ?? language };
    const asked = input.toPath !== undefined && input.toPath.trim() !== '';
    // A second export of the same day gets a number after its name.
    const wanted = asked
      ? fullPlaceOf(input.toPath!, 'toPath')
      : pathsBeside(context.bookPath, 'exports', `${fileNameOf(companyName)}-${context.today}`, '.zip');
    if (typeof wanted === 'string') {
      assertFree(wanted, 'toPath');
      assertOwnName(wanted, 'toPath');
    }

    const counts = new Map<TableName, number>();
    for (const table of TABLE_NAMES) counts.set(table, await countRows(db, table));
    const total = [...counts.values()].reduce((sum, rows) => sum + rows, 0);
    const tables: { name: string; rows: number }[] = [];
    const path = await writeWhole(wanted, 'toPath', async (temporary) => {
      const zip = zipTo(temporary);
      try {
        let done = 0;
        const columns = new Map<TableName, string[]>();
        for (const table of TABLE_NAMES) columns.set(table, await columnsOf(db, table));
        zip
          .add('README.txt', context.now)
          .push(strToU8(exportReadme(company, context.now, columns, counts, await readSeal(db))), true);
        for (const table of TABLE_NAMES) {
          const names = columns.get(table)!;
          const file = zip.add(`${table}.csv`, context.now);
          file.push(strToU8(BYTE_ORDER_MARK + csvOf([names])));
          let rows = 0;
          for await (const page of pagesOf(db, table)) {
            context.checkCancelled();
            context.progress(done, total, fact('book.writingTable', { table }));
            file.push(strToU8(csvOf(page.map((row) => names.map((column) => row[column])))));
            rows += page.length;
            done += page.length;
            zip.throwIfFailed();
          }
          file.push(new Uint8Array(0), true);
          tables.push({ name: table, rows });
        }
        zip.end();
        context.progress(total, total, fact('book.written'));
      } finally {
        zip.close();
      }
    });
    return { path, bytes: statSync(path).size, tables };
  });

/** A zip written straight to a file as it grows. */
function zipTo(path: string) {
  const file = createFile(path);
  let failure: unknown = null;
  const zip = new Zip((error, chunk) => {
    if (failure !== null) return;
    if (error) {
      failure = error;
      return;
    }
    try {
      for (let at = 0; at < chunk.length;) at += writeSync(file, chunk, at);
    } catch (cause) {
      failure = cause;
    }
  });
  const throwIfFailed = (): void => {
    if (failure !== null) throw failure;
  };
  return {
    add(name: string, at: string) {
      const entry = new ZipDeflate(name, { level: 4 });
      entry.mtime = at;
      zip.add(entry);
      return entry;
    },
    end() {
      zip.end();
      throwIfFailed();
    },
    throwIfFailed,
    close: () => closeSync(file),
  };
}

/** A company's name as it may stand in a file name on every system. */
function fileNameOf(name: string): string {
  const plain = name
    .normalize('NFKD')
    .replace(/[\u0300-\u036f]/g, '')
    .replace(/[^A-Za-z0-9]+/g, '-')
    .replace(/^-+|-+$/g, '')
    .slice(0, 60);
  return plain === '' || isDeviceName(plain) ? `book-${plain}`.replace(/-$/, '') : plain;
}
