import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { makeBook, type TestBook } from './job-context.ts';
import { english } from './english.ts';

// The layout of a book: whatever is dropped, added, changed or put in another's place is named by the check.

let book: TestBook;
beforeEach(async () => void (book = await makeBook()));
afterEach(() => book.close());

const NAME = 'The book’s tables and guards are as Valvebook made them';
const layout = async () => english(await book.run('book.check', {})).checks.find((check) => check.name === NAME)!;
const guard = (name: string): string =>
  String(book.connection.raw.prepare('SELECT sql FROM sqlite_schema WHERE name = ?').pluck().get(name));

describe('the layout of a book', () => {
  it('is clean as made, after a compaction, and after SQLite took its statistics', async () => {
    book.connection.raw.exec('VACUUM; ANALYZE');
    const check = await layout();
    expect(check).toMatchObject({ passed: true, findings: [] });
    expect(check.looked).toBe(
      book.connection.raw
        .prepare("SELECT count(*) FROM sqlite_schema WHERE name NOT LIKE 'sqlite_stat%'")
        .pluck()
        .get(),
    );
  });

  it('misses no trigger, index or table that is gone', async () => {
    const declared = book.connection.raw
      .prepare("SELECT type, name FROM sqlite_schema WHERE sql IS NOT NULL AND type IN ('trigger', 'index')")
      .all() as { type: string; name: string }[];
    expect(declared.length).toBeGreaterThan(25);
    for (const { type, name } of declared) {
      const text = guard(name);
      book.connection.raw.exec(`DROP ${type} ${name}`);
      expect((await layout()).findings, name).toEqual([
        expect.stringMatching(new RegExp(`The ${type} ${name} .*missing`)),
      ]);
      book.connection.raw.exec(text);
    }
    expect(await layout()).toMatchObject({ passed: true });
    book.connection.raw.exec('DROP TABLE importMapping');
    const { checks } = await book.run('book.check', {});
    expect(english(checks).map((check) => check.name)).toContain(NAME);
    expect((await layout()).findings).toContainEqual(expect.stringMatching(/The table importMapping is missing/));
  });

  it.each([
    [
      'a trigger that does nothing',
      'DROP TRIGGER ledgerEntryNoUpdate; CREATE TRIGGER ledgerEntryNoUpdate BEFORE UPDATE ON ledgerEntry BEGIN SELECT 1; END',
      /trigger ledgerEntryNoUpdate .*is not as Valvebook made it, so the past could be changed/,
    ],
    [
      'a trigger that never fires',
      "DROP TRIGGER ledgerEntryNoDelete; CREATE TRIGGER ledgerEntryNoDelete BEFORE DELETE ON ledgerEntry WHEN 0 BEGIN SELECT RAISE(ABORT, 'the ledger is append-only: write a correction instead'); END",
      /trigger ledgerEntryNoDelete/,
    ],
    [
      'a trigger on another table',
      "DROP TRIGGER programRunNoDelete; CREATE TRIGGER programRunNoDelete BEFORE DELETE ON season BEGIN SELECT RAISE(ABORT, 'a program revision is history: make a new one'); END",
      /trigger programRunNoDelete/,
    ],
    [
      'a trigger more',
      'CREATE TRIGGER quiet AFTER INSERT ON ledgerEntry BEGIN DELETE FROM season; END',
      /a trigger quiet \(of ledgerEntry\) that Valvebook did not make/,
    ],
    ['an index more', 'CREATE INDEX more ON client (name)', /an index more/],
    ['a table more', 'CREATE TABLE more (id)', /a table more that/],
    ['a view more', 'CREATE VIEW more AS SELECT 1', /a view more that/],
    ['a column more', 'ALTER TABLE client ADD COLUMN more text', /table client is not as Valvebook made it/],
    [
      'an index of other columns',
      'DROP INDEX ledgerDay; CREATE INDEX ledgerDay ON ledgerEntry (kind)',
      /index ledgerDay .*is not as/,
    ],
    [
      'a unique index made loose',
      'DROP INDEX ledgerCorrects; CREATE INDEX ledgerCorrects ON ledgerEntry (correctsId) WHERE correctsId IS NOT NULL',
      /index ledgerCorrects/,
    ],
    [
      'a view in place of a table',
      'ALTER TABLE importMapping RENAME TO hidden; CREATE VIEW importMapping AS SELECT * FROM hidden',
      /In place of the table importMapping there is a view/,
    ],
    [
      'a table made anew without its rule',
      'CREATE TABLE loose AS SELECT * FROM writeLog; DROP TABLE writeLog; ALTER TABLE loose RENAME TO writeLog',
      /table writeLog is not as/,
    ],
    ['another layout’s number', 'PRAGMA user_version = 77', /layout is version 77/],
    ['a number below nothing', 'PRAGMA user_version = -1', /layout is version -1/],
  ])('finds %s', async (_what, statements, sentence) => {
    book.connection.raw.exec(statements);
    const check = await layout();
    expect(check.passed).toBe(false);
    expect(check.findings.join('\n')).toMatch(sentence);
  });
});
