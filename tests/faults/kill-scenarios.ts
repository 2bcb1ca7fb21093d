import { copyFileSync, existsSync, mkdirSync, rmSync } from 'node:fs';
import { dirname, join } from 'node:path';
import type { Desk } from '../../core/desk/desk.ts';
import { chance, type Chance } from '../../core/demo/random.ts';
import { SCHEMA_VERSION } from '../../core/book/migrate.ts';
import { makeDemo } from '../../electron/demo.ts';
import { fatten, OLD_BOOK, place, siteOf } from './kill-books.ts';
import { runErrand, runHost, type Ran, type Stroke } from './kill-errand.ts';
import { checkHere, contentOf, countsOf, filesIn, leftOver, reopen } from './kill-look.ts';
import { checkWrites, type Finding, type WriteSite } from './kill-writes.ts';

// What is killed, and what must hold afterwards.

export interface Scenario {
  name: string;
  /** Share of the kills. */
  weight: number;
  /** Makes what every round starts from. Returns why it cannot be tried here, or null. */
  prepare(): Promise<string | null>;
  /** One run; without a stroke to its end, which tells how long it takes. */
  run(stroke: Stroke | null, dice: Chance): Promise<Ran>;
  /** What is wrong after it. */
  check(ran: Ran): Promise<Finding[]>;
}

const TODAY = '2026-06-15';
const IMPORT_ROWS = 3000;
const isBook = (file: string) => /(^|\/)[^./][^/]*\.valvebook$/.test(file);

/** A backup, or a book kept aside, that bears its final name: it must open, be clean and hold what it should. */
async function checkKept(files: readonly string[], content: string): Promise<Finding[]> {
  const findings: Finding[] = [];
  for (const file of files) {
    try {
      for (const what of await checkHere(file)) findings.push({ harm: 'half', what: `${file}: ${what}` });
      if (contentOf(file) !== content)
        findings.push({ harm: 'half', what: `${file} holds something else than the book did` });
    } catch (error) {
      findings.push({ harm: 'half', what: `${file}: ${String(error)}` });
    }
  }
  return findings;
}

const caller = (desk: Desk) => (name: string, input: unknown) => desk.call(name, input);

export function scenariosIn(folder: string, seed: number): Scenario[] {
  const small = join(folder, 'templates', 'small.valvebook');
  const large = join(folder, 'templates', 'large.valvebook');
  const madeOnce = async (path: string, properties: number) => {
    if (!existsSync(path)) await makeDemo({ path, properties, seed: 1, today: TODAY });
  };
  const bookIn = (name: string) => join(folder, name, 'book.valvebook');

  const writing = (
    name: string,
    weight: number,
    run: (path: string, site: WriteSite, stroke: Stroke | null, dice: Chance) => Promise<Ran>,
  ): Scenario => {
    const bookPath = bookIn(name);
    let site: WriteSite;
    let rounds = 0;
    return {
      name,
      weight,
      async prepare() {
        await madeOnce(small, 6);
        site = await siteOf(small);
        return null;
      },
      async run(stroke, dice) {
        // The same book is killed many times over; it is renewed before looking at it takes longer than the kill.
        if (rounds++ % 20 === 0) place(small, bookPath);
        return run(bookPath, site, stroke, dice);
      },
      check: async (ran) => [
        ...(await reopen(bookPath, (desk) => checkWrites(bookPath, ran.sent, caller(desk)))),
        ...leftOver(dirname(bookPath)),
      ],
    };
  };

  const importBook = bookIn('import');
  let plain: Record<string, number>;
  let filled: Record<string, number>;
  const lines = Array.from(
    { length: IMPORT_ROWS },
    (_, row) => `Killed ${row},(970) 555-01${10 + (row % 90)},${row + 1} Quarry Lane,Tamsett`,
  );
  const importInput = {
    target: 'clients',
    fileName: 'list.csv',
    bytesBase64: Buffer.from(`Client name,Phone,Street,City\r\n${lines.join('\r\n')}\r\n`).toString('base64'),
  };

  const backupBook = bookIn('backup');
  let backedUp: string;

  const restoreBook = bookIn('restore');
  const other = join(folder, 'templates', 'other.valvebook');
  let before: string;
  let after: string;

  const upgradeBook = bookIn('upgrade');
  const oldBook = join(folder, 'templates', 'old.valvebook');
  let old: Record<string, number>;
  let oldContent: string;

  const createBook = bookIn('create');
  const client = { id: chance(seed, 'create').ulid(1_780_000_000_000), name: 'First of all' };
  const firstWrite = { writeId: chance(seed, 'write').ulid(1_780_000_000_000), client };

  return [
    writing('writes through a desk', 5, (bookPath, site, stroke, dice) =>
      runErrand({ what: 'writes', bookPath, site, seed: String(dice.int(0, 2 ** 31)) }, stroke, stroke ? Infinity : 25),
    ),
    writing('writes through the host', 3, (bookPath, site, stroke, dice) =>
      runHost(bookPath, site, dice, stroke, stroke ? Infinity : 40),
    ),
    {
      name: 'import',
      weight: 3,
      async prepare() {
        await madeOnce(small, 6);
        plain = countsOf(small);
        place(small, importBook);
        const full = await runErrand(
          { what: 'call', bookPath: importBook, name: 'import.apply', input: importInput },
          null,
        );
        if (full.acked?.data.added.clients !== IMPORT_ROWS)
          throw new Error(`the list was not imported: ${JSON.stringify(full).slice(0, 600)}`);
        filled = countsOf(importBook);
        return null;
      },
      run(stroke) {
        place(small, importBook);
        return runErrand({ what: 'call', bookPath: importBook, name: 'import.apply', input: importInput }, stroke);
      },
      async check(ran) {
        const findings = await reopen(importBook);
        const same = (a: object) => JSON.stringify(a) === JSON.stringify(countsOf(importBook));
        if (findings.some((one) => one.harm === 'unopenable')) return findings;
        if (ran.acked && !same(filled)) findings.push({ harm: 'lost', what: JSON.stringify(countsOf(importBook)) });
        else if (!same(plain) && !same(filled))
          findings.push({ harm: 'half', what: JSON.stringify(countsOf(importBook)) });
        // The same list once more: what is there joins, what is missing comes, nothing twice.
        if (ran.midway && ran.tookMs % 5 < 1) {
          const again = await runErrand(
            { what: 'call', bookPath: importBook, name: 'import.apply', input: importInput },
            null,
          );
          const rows = countsOf(importBook);
          if (again.acked === null || rows['client'] !== filled['client'] || rows['property'] !== filled['property'])
            findings.push({ harm: 'doubled', what: JSON.stringify([again.faults, rows]) });
        }
        return [...findings, ...leftOver(dirname(importBook))];
      },
    },
    {
      name: 'backup',
      weight: 2,
      async prepare() {
        await madeOnce(large, 60);
        place(large, backupBook);
        await reopen(backupBook);
        backedUp = contentOf(backupBook);
        return null;
      },
      run: (stroke) => {
        place(large, backupBook);
        return runErrand({ what: 'call', bookPath: backupBook, name: 'book.backup', input: {} }, stroke);
      },
      async check(ran) {
        const kept = filesIn(dirname(backupBook)).filter((file) => isBook(file) && file !== backupBook);
        const findings = await checkKept(kept, backedUp);
        if (ran.acked && !kept.includes(ran.acked.data.path))
          findings.push({ harm: 'lost', what: `no ${ran.acked.data.path}` });
        findings.push(...(await reopen(backupBook)));
        if (contentOf(backupBook) !== backedUp) findings.push({ harm: 'lost', what: 'the book itself changed' });
        return [...findings, ...leftOver(dirname(backupBook))];
      },
    },
    {
      name: 'restore',
      weight: 3,
      async prepare() {
        await madeOnce(small, 6);
        if (!existsSync(other)) await makeDemo({ path: other, properties: 12, seed: 2, today: TODAY });
        for (const path of [small, other]) {
          place(path, restoreBook);
          await reopen(restoreBook);
          if (path === small) before = contentOf(restoreBook);
          else after = contentOf(restoreBook);
        }
        return null;
      },
      run(stroke) {
        place(small, restoreBook);
        return runErrand(
          { what: 'call', bookPath: restoreBook, name: 'book.restore', input: { fromPath: other } },
          stroke,
        );
      },
      async check(ran) {
        const findings = await reopen(restoreBook);
        if (findings.some((one) => one.harm === 'unopenable')) return findings;
        const now = contentOf(restoreBook);
        const kept = filesIn(dirname(restoreBook)).filter((file) => isBook(file) && file !== restoreBook);
        if (now !== before && now !== after)
          findings.push({ harm: 'half', what: 'neither the old book nor the new one' });
        if (ran.acked && now !== after) findings.push({ harm: 'lost', what: 'the restored book is not there' });
        if (now === after && kept.length === 0) findings.push({ harm: 'lost', what: 'the replaced book was not kept' });
        findings.push(...(await checkKept(kept, before)));
        return [...findings, ...leftOver(dirname(restoreBook))];
      },
    },
    {
      name: 'upgrade',
      weight: 2,
      async prepare() {
        if (!existsSync(OLD_BOOK)) return 'there is no older book to upgrade';
        if (SCHEMA_VERSION === 1) return 'there is one layout only';
        mkdirSync(dirname(oldBook), { recursive: true });
        copyFileSync(OLD_BOOK, oldBook);
        fatten(oldBook);
        old = countsOf(oldBook);
        oldContent = contentOf(oldBook);
        return null;
      },
      run(stroke) {
        place(oldBook, upgradeBook);
        return runErrand({ what: 'open', bookPath: upgradeBook }, stroke);
      },
      async check() {
        const copies = () =>
          filesIn(dirname(upgradeBook)).filter(
            (file) => file !== upgradeBook && /\.before-\d|\.valvebook$/.test(file) && !/\/\.[^/]*$/.test(file),
          );
        const findings: Finding[] = [];
        const whole = (file: string) => {
          try {
            return contentOf(file) === oldContent;
          } catch {
            return false;
          }
        };
        // A copy under its final name is whole, also before the book is opened again.
        for (const file of copies())
          if (!whole(file)) findings.push({ harm: 'half', what: `${file} is not the book as it was` });
        findings.push(...(await reopen(upgradeBook)));
        if (findings.some((one) => one.harm === 'unopenable')) return findings;
        const now = countsOf(upgradeBook);
        const changed = Object.keys(old).filter((table) => now[table] !== old[table]);
        if (changed.length > 0) findings.push({ harm: 'lost', what: `rows of ${changed.join(', ')}` });
        if (!copies().some(whole))
          findings.push({ harm: 'lost', what: 'no copy of the book as it was before the upgrade' });
        return [...findings, ...leftOver(dirname(upgradeBook))];
      },
    },
    {
      name: 'creation',
      weight: 2,
      prepare: async () => null,
      run(stroke) {
        rmSync(dirname(createBook), { recursive: true, force: true });
        mkdirSync(dirname(createBook), { recursive: true });
        return runErrand({ what: 'create', bookPath: createBook, name: 'client.save', input: firstWrite }, stroke);
      },
      async check(ran) {
        const findings = await reopen(
          createBook,
          async (desk) => {
            const reply = await desk.call('client.list', {});
            const total = reply.ok ? (reply.data as { total: number }).total : -1;
            if (total === 1 || (total === 0 && !ran.acked)) return [];
            return [{ harm: total === 0 ? 'lost' : 'other', what: JSON.stringify(reply) }];
          },
          true,
        );
        return [...findings, ...leftOver(dirname(createBook))];
      },
    },
  ];
}
