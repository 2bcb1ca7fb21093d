import assert from 'node:assert/strict';
import { existsSync, mkdirSync, readdirSync, readFileSync, renameSync, rmSync, statSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { setImmediate as breathe } from 'node:timers/promises';
import { unzipSync } from 'fflate';
import { ulid } from 'ulid';
import type { Desk } from '../../../core/desk/desk.ts';
import { makeDemo } from '../../../electron/demo.ts';
import { call, refusalOf, TODAY, umlautFolder, type Check, type Ground } from '../check.ts';
import { holdBook } from '../other-process.ts';

/** A small company's book in a folder with umlauts and blanks. */
async function demoBook(ground: Ground): Promise<string> {
  const book = path.join(umlautFolder(ground), 'Die Firma – 1.valvebook');
  await makeDemo({ path: book, properties: 6, today: TODAY });
  return book;
}

async function addClient(desk: Desk, name: string): Promise<void> {
  await call(desk, 'client.save', { writeId: ulid(), client: { id: ulid(), name } });
}

async function clientsNamed(desk: Desk, search: string): Promise<number> {
  return (await call(desk, 'client.list', { search })).rows.length;
}

export const checks: Check[] = [
  {
    name: 'demo, check, backup, restore and export in a folder with umlauts and blanks',
    async run(ground) {
      const book = await demoBook(ground);
      const desk = await ground.open(book);
      assert.equal((await call(desk, 'book.check', {})).clean, true);
      const { path: backup, bytes } = await call(desk, 'book.backup', {});
      assert.equal(statSync(backup).size, bytes);
      const before = await call(desk, 'book.info', {});
      // Added to one that was in the demo: people only become clients on the list with a property.
      await addClient(desk, 'Nach der Sicherung');
      assert.equal((await call(desk, 'book.info', {})).counts['client'], before.counts['client']! + 1);
      const { previousSavedAs } = await call(desk, 'book.restore', { fromPath: backup });
      assert.equal(existsSync(previousSavedAs), true);
      assert.deepEqual((await call(desk, 'book.info', {})).counts, before.counts);
      assert.equal((await call(desk, 'book.check', {})).clean, true);
      const exported = await call(desk, 'export.book', { toPath: path.join(path.dirname(book), 'Ausfuhr öäü.zip') });
      assert.equal(Object.hasOwn(unzipSync(readFileSync(exported.path)), 'client.csv'), true);
      await addClient(desk, 'Nach dem Zurückholen');
    },
  },
  {
    name: 'a list with lines ended the Windows way, in its old code page, imports like any other',
    async run(ground) {
      const desk = await ground.open(path.join(umlautFolder(ground), 'b.valvebook'), { create: true });
      const text =
        'Name;Address;City;Phone\r\nMüller, Größe;1 Rain St;Tamsett;555-0101\r\n"Two\r\nLines";2 Rain St;Tamsett;555-0102\r\n';
      const bytesBase64 = Buffer.from(text, 'latin1').toString('base64');
      const answer = await call(desk, 'import.apply', { fileName: 'liste.csv', bytesBase64 });
      assert.equal(answer.encoding, 'windows-1252');
      assert.deepEqual(answer.problems, []);
      assert.equal(answer.goodRows, 2);
      assert.equal(await clientsNamed(desk, 'Müller, Größe'), 1);
      const again = await call(desk, 'import.apply', { fileName: 'liste.csv', bytesBase64 });
      assert.equal(again.skipped, 2);
    },
  },
  {
    name: 'a second start is refused in words, from this process and from another',
    async run(ground) {
      const book = await demoBook(ground);
      const other = await holdBook(book, ground.folder);
      try {
        const refused = await refusalOf(() => ground.open(book));
        assert.equal(refused.code, 'book-busy');
        assert.match(refused.message, /already open in another Valvebook/);
        // The same file under another spelling.
        assert.equal((await refusalOf(() => ground.open(book.replace('Die Firma', 'DIE fIRMA')))).code, 'book-busy');
        // A look from the command line needs no lock.
        const looking = await ground.open(book, { access: 'read' });
        await call(looking, 'book.info', {});
        await looking.close();
      } finally {
        await other.kill();
      }
      const desk = await ground.open(book);
      assert.equal((await refusalOf(() => ground.open(book))).code, 'book-busy');
      await call(desk, 'book.info', {});
    },
  },
  {
    name: 'a rename over an open book, from outside, loses nothing',
    async run(ground) {
      const book = await demoBook(ground);
      const desk = await ground.open(book);
      await addClient(desk, 'Vor dem Umbenennen');
      const stranger = path.join(path.dirname(book), 'fremd.bin');
      writeFileSync(stranger, 'not a book');
      let refused = '';
      try {
        renameSync(stranger, book);
      } catch (error) {
        refused = (error as NodeJS.ErrnoException).code ?? '';
      }
      assert.match(refused, /^(EPERM|EACCES|EBUSY)$/);
      await addClient(desk, 'Nach dem Umbenennen');
      await desk.close();
      const again = await ground.open(book);
      assert.equal((await call(again, 'book.check', {})).clean, true);
      return `Windows refuses it: ${refused}`;
    },
  },
  {
    name: 'a restore while another program holds the book open is refused in a true sentence',
    async run(ground) {
      const book = await demoBook(ground);
      const desk = await ground.open(book);
      const { path: backup } = await call(desk, 'book.backup', {});
      await addClient(desk, 'Noch da');
      const counts = (await call(desk, 'book.info', {})).counts;
      const other = await holdBook(book, ground.folder, 'read');
      try {
        const reply = await desk.call('book.restore', { fromPath: backup });
        assert.equal(reply.ok, false);
        assert.match(reply.ok ? '' : reply.error.message, /another program has .+ open/i);
        assert.deepEqual((await call(desk, 'book.info', {})).counts, counts);
      } finally {
        await other.kill();
      }
      await call(desk, 'book.restore', { fromPath: backup });
    },
  },
  {
    name: 'a backup while the book is read and written is whole',
    async run(ground) {
      const book = await demoBook(ground);
      const desk = await ground.open(book);
      const stop = new AbortController();
      let reads = 0;
      let writes = 0;
      const reading = (async () => {
        for (; !stop.signal.aborted; reads += 1) {
          await call(desk, 'client.list', {});
          await breathe();
        }
      })();
      const writing = (async () => {
        for (; !stop.signal.aborted; writes += 1) {
          await addClient(desk, `Kunde ${writes}`);
          await breathe();
        }
      })();
      const backups: string[] = [];
      try {
        for (let n = 0; n < 3; n += 1) {
          const toPath = path.join(path.dirname(book), `Sicherung ${n}.valvebook`);
          backups.push((await call(desk, 'book.backup', { toPath })).path);
        }
      } finally {
        stop.abort();
        await Promise.all([reading, writing]);
      }
      assert.ok(reads > 0 && writes > 0);
      for (const backup of backups) {
        const copy = await ground.open(backup);
        assert.equal((await call(copy, 'book.check', {})).clean, true);
        await copy.close();
      }
      return `${reads} reads and ${writes} writes meanwhile`;
    },
  },
  {
    name: 'a closed book leaves nothing open: it can be moved and its folder removed',
    async run(ground) {
      const book = await demoBook(ground);
      const desk = await ground.open(book);
      await call(desk, 'book.check', {});
      await call(desk, 'book.backup', {});
      await desk.close();
      const folder = path.dirname(book);
      assert.deepEqual(
        readdirSync(folder).filter((name) => /-(wal|shm|journal)$|\.(part|restoring)$|demo-|making-/.test(name)),
        [],
      );
      const moved = path.join(ground.folder, 'moved');
      renameSync(folder, moved);
      mkdirSync(folder);
      rmSync(moved, { recursive: true });
      assert.equal(existsSync(moved), false);
    },
  },
];
