import { spawn, spawnSync, type ChildProcess } from 'node:child_process';
import { createInterface } from 'node:readline';
import Database from 'better-sqlite3';
import { expect, test } from 'vitest';
import { makeBook, makeSite } from '../desk/make-book.ts';
import { finished } from './finished.ts';

// Another program opens the book read-write for a moment and closes it while the host goes on acknowledging writes.
// Whoever closes last deletes SQLite's journal; the host's locks are what tells the other program that it is not the last.

const HOST = new URL('./noting-host.ts', import.meta.url).pathname;
const ROUNDS = 20;

interface Outsider {
  name: string;
  program: string;
  args: string[];
}

const SQLITE = JSON.stringify(new URL('../../node_modules/better-sqlite3', import.meta.url).pathname);
// Newer SQLite notices some of what goes wrong; what other programs bring may be older.
const OUTSIDERS: Outsider[] = [
  {
    name: 'Node',
    program: process.execPath,
    args: [
      '-e',
      `const db = new (require(${SQLITE}))(process.argv[1]);
       console.log(db.prepare('SELECT count(*) FROM ledgerEntry').pluck().get());
       db.exec('UPDATE client SET name = name');
       db.close();`,
    ],
  },
];
const python = (change: string): string => `import sqlite3, sys
db = sqlite3.connect(sys.argv[1], timeout=30)
print(db.execute('SELECT count(*) FROM ledgerEntry').fetchone()[0])
${change}
db.close()`;
if (spawnSync('python3', ['-c', 'import sqlite3']).status === 0)
  OUTSIDERS.push(
    { name: 'Python, looking', program: 'python3', args: ['-c', python('')] },
    {
      name: 'Python, writing',
      program: 'python3',
      args: ['-c', python("db.execute('UPDATE client SET name = name')\ndb.commit()")],
    },
  );

test.each([
  ['an orderly stop', 'SIGTERM'],
  ['kill -9', 'SIGKILL'],
] as const)(
  `${ROUNDS} times a program opens and closes the book beside the host: after %s every acknowledged write is there`,
  { timeout: 600_000 },
  async (_, signal) => {
    const book = await makeBook();
    const site = await makeSite(book);
    await book.desk.close();
    const lost: string[] = [];
    for (let round = 0; round < ROUNDS; round++) {
      const outsider = OUTSIDERS[round % OUTSIDERS.length]!;
      const host = startHost(book.path, site.propertyId);
      await host.until((noted) => noted.length >= 3);
      const seen = await finished(outsider.program, [...outsider.args, book.path]);
      expect(seen.status, `${outsider.name}: ${seen.errors}`).toBe(0);
      // It did look into the book, and not at an empty file of its own.
      expect(Number(seen.output)).toBeGreaterThanOrEqual(3);
      const then = host.noted.length;
      await host.until((noted) => noted.length >= then + 20);
      await host.end(signal);
      expect(host.refusals).toEqual([]);

      const raw = new Database(book.path);
      const entry = raw.prepare('SELECT 1 FROM ledgerEntry WHERE id = ?');
      for (const id of host.noted)
        if (entry.get(id) === undefined) lost.push(`round ${round} (${outsider.name}): ${id}`);
      expect(raw.pragma('integrity_check', { simple: true })).toBe('ok');
      raw.close();
    }
    expect(lost).toEqual([]);
  },
);

test('while the host runs, its lock on the book is seen by other programs: none can have the book alone', async () => {
  const book = await makeBook();
  await makeSite(book);
  const alone = `const db = new (require(${SQLITE}))(process.argv[1], { timeout: 0 });
    db.pragma('locking_mode = EXCLUSIVE');
    try { db.exec('BEGIN EXCLUSIVE; ROLLBACK'); console.log('alone'); } catch (error) { console.log(error.code); }`;
  const ask = () => finished(process.execPath, ['-e', alone, book.path]);
  expect((await ask()).output.trim()).toBe('SQLITE_BUSY');
  // Jobs open and close connections of their own, in threads.
  await book.call('book.backup', {});
  await book.call('book.check', {});
  await book.call('export.book', {});
  expect((await ask()).output.trim()).toBe('SQLITE_BUSY');
  const { path: backup } = await book.call('book.backup', {});
  await book.call('book.restore', { fromPath: backup });
  expect((await ask()).output.trim()).toBe('SQLITE_BUSY');
  await book.desk.close();
  expect((await ask()).output.trim()).toBe('alone');
});

interface Host {
  noted: string[];
  refusals: string[];
  until(enough: (noted: string[]) => boolean): Promise<void>;
  end(signal: 'SIGTERM' | 'SIGKILL'): Promise<void>;
}

function startHost(path: string, propertyId: string): Host {
  const child: ChildProcess = spawn(process.execPath, [HOST, path, propertyId], {
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  const noted: string[] = [];
  const refusals: string[] = [];
  let look = (): void => undefined;
  createInterface({ input: child.stdout! }).on('line', (line) => {
    if (line.startsWith('noted ')) noted.push(line.slice(6));
    else if (line.startsWith('refused ')) refusals.push(line.slice(8));
    look();
  });
  const gone = new Promise<void>((resolve) => void child.on('close', () => resolve()));
  void gone.then(() => look());
  return {
    noted,
    refusals,
    until: (enough) =>
      new Promise((resolve, reject) => {
        look = () => {
          if (enough(noted)) resolve();
          else if (child.exitCode !== null || child.signalCode !== null)
            reject(new Error(`the host ended early: ${refusals.join(' ')}`));
        };
        look();
      }),
    async end(signal) {
      child.kill(signal);
      await gone;
    },
  };
}
