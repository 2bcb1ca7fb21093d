import { mkdirSync, mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { ulid } from 'ulid';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { openDesk, type Desk, type DeskOptions } from '../../core/desk/desk.ts';
import { stampOf } from '../../core/book/files.ts';
import { base64 } from './job-context.ts';
import { english } from './english.ts';

// Backups that nobody asked for, made by a real desk in its worker.

let folder: string;
let bookPath: string;
let desk: Desk;
const open = async (automaticBackups?: DeskOptions['automaticBackups']) => {
  desk = await openDesk({ bookPath, create: true, ...(automaticBackups ? { automaticBackups } : {}) });
};
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'valvebook-auto-'));
  bookPath = join(folder, 'company.valvebook');
});
afterEach(async () => {
  await desk.close();
  rmSync(folder, { recursive: true, force: true });
});

const SOON = { timeout: 100_000, interval: 50 };
const AT_ONCE = { firstAfterMs: 0, everyMs: 100 };
const call = async (name: string, input: object = {}) => {
  const reply = await desk.call(name, input);
  if (!reply.ok) throw Object.assign(new Error(reply.error.message), reply.error);
  return reply.data as any;
};
const addClient = (name: string) => call('client.save', { writeId: ulid(), client: { id: ulid(), name } });
const choose = async (backups: object) => {
  const settings = await call('settings.get');
  await call('settings.save', {
    writeId: ulid(),
    settings: { ...settings, backups: { ...settings.backups, ...backups } },
  });
};
const made = (where = join(folder, 'backups'), kind = 'auto') => {
  try {
    return readdirSync(where).filter((name) => name.startsWith(`company-${kind}-`) && name.endsWith('.valvebook'));
  } catch {
    return [];
  }
};
const plant = (where: string, name: string) => {
  mkdirSync(where, { recursive: true });
  writeFileSync(join(where, name), 'planted');
};

describe('what was kept before an upgrade or a restore', () => {
  it('goes to the second place with the next backup, is listed there, and is never removed', async () => {
    const second = join(folder, 'second');
    mkdirSync(second);
    const kept = ['company.valvebook.before-2-1700000000000', 'company-before-restore-2020-01-01-120000.valvebook'];
    plant(folder, kept[0]!);
    plant(join(folder, 'backups'), kept[1]!);
    plant(join(folder, 'backups'), `${kept[1]}-wal`);
    await open();
    await addClient('First');
    await choose({ secondFolder: second });
    await desk.close();
    await open(AT_ONCE);
    await expect.poll(() => readdirSync(second), SOON).toEqual(expect.arrayContaining([...kept, `${kept[1]}-wal`]));
    await expect.poll(() => readdirSync(second).filter((name) => name.endsWith('.part')), SOON).toEqual([]);
    const { backups } = await call('book.backups');
    for (const where of ['beside', 'second'])
      expect(
        backups.filter((one: any) => one.where === where && one.kind.startsWith('before-')).map((one: any) => one.kind),
      ).toEqual(['before-upgrade', 'before-restore']);
  });
});

describe('backups by themselves', () => {
  it('come after the first change, once, are told to the screens, and hold the book', async () => {
    await open(AT_ONCE);
    const heard: string[] = [];
    desk.onChange((topics) => heard.push(...topics));
    expect(await call('book.backupState')).toMatchObject({ lastGoodAt: null, daysWithout: 0, runsHere: true });
    await addClient('First');
    await expect.poll(() => made().length, SOON).toBe(1);
    await expect.poll(() => heard, SOON).toContain('book');
    await addClient('Second');
    // Several more turns: the day is not over.
    await new Promise((resolve) => setTimeout(resolve, 600));
    expect(made()).toHaveLength(1);
    const { backups } = await call('book.backups');
    expect(backups).toMatchObject([{ kind: 'auto', verified: true, where: 'beside' }]);
    expect(await call('book.backupState')).toMatchObject({ failure: null, secondFailure: null, daysWithout: 0 });
    await call('book.restore', { fromPath: backups[0].path });
    expect((await call('book.info')).counts.client).toBe(1);
  });

  it('do not come in tests and on the command line, nor where they are switched off', async () => {
    await open();
    await addClient('First');
    expect(await call('book.backupState')).toMatchObject({ runsHere: false, automatic: true });
    await choose({ automatic: false });
    await desk.close();
    await open(AT_ONCE);
    await new Promise((resolve) => setTimeout(resolve, 1500));
    expect(made()).toEqual([]);
  });

  it('go to the second place as well, and only their own kind is ever removed, in both', async () => {
    const second = join(folder, 'second');
    mkdirSync(second);
    const others: string[] = [];
    // One moment for both: a second that ends meanwhile would give a copy another name, and it would rightly stay.
    const now = Date.now();
    for (const where of [join(folder, 'backups'), second]) {
      for (let day = 0; day < 700; day += 1)
        plant(where, `company-auto-${stampOf(new Date(now - (day + 2) * 86_400_000))}.valvebook`);
      for (const name of [
        'company-2020-01-01-120000.valvebook',
        'company-auto-2020-01-01.valvebook',
        'company-auto-2020-01-01-120000.valvebook.txt',
        'company-auto-2020-13-01-120000.valvebook',
        'company-two-auto-2020-01-01-120000.valvebook',
        'letter.valvebook',
      ]) {
        plant(where, name);
        others.push(join(where, name));
      }
    }
    await open();
    await addClient('First');
    await choose({ secondFolder: second });
    await desk.close();
    await open(AT_ONCE);
    // What goes from the second place goes there first.
    await expect.poll(() => made().length + made(second).length, SOON).toBeLessThan(60);
    const here = () => made().filter((name) => /\d{6}(-\d)?\.valvebook$/.test(name) && !name.includes('2020'));
    // The last of them may still be going.
    await expect.poll(() => here().length, SOON).toBeLessThanOrEqual(24);
    expect(here().length).toBeGreaterThanOrEqual(18);
    const all = readdirSync(folder, { recursive: true, withFileTypes: true }).map((one) =>
      join(one.parentPath, one.name),
    );
    expect(all).toEqual(expect.arrayContaining(others));
    const { backups } = await call('book.backups');
    expect(backups.some(({ where }: { where: string }) => where === 'second')).toBe(true);
  });

  it('leave in the second place what another book of that name, or another machine, put there', async () => {
    const second = join(folder, 'second');
    const theirs = Array.from({ length: 40 }, (_, day) => {
      const name = `company-auto-${stampOf(new Date(Date.now() - (day + 2) * 86_400_000))}.valvebook`;
      plant(join(folder, 'backups'), name);
      plant(second, name);
      // Under one name, but not the same backup.
      if (day % 2 === 0) writeFileSync(join(second, name), 'of another book');
      return { name, isCopy: day % 2 === 1 };
    });
    plant(second, 'company-auto-2021-05-05-050505.valvebook');
    await open();
    await addClient('First');
    await choose({ secondFolder: second });
    await desk.close();
    await open(AT_ONCE);
    await expect.poll(() => made().length, SOON).toBeLessThan(20);
    const stays = new Set(made(second));
    const gone = new Set(theirs.map(({ name }) => name).filter((name) => !made().includes(name)));
    expect(gone.size).toBeGreaterThan(20);
    expect(stays.has('company-auto-2021-05-05-050505.valvebook')).toBe(true);
    for (const { name, isCopy } of theirs) expect(stays.has(name), name).toBe(!(isCopy && gone.has(name)));
  });

  it('remove nothing that may have been made by hand of a book called like one of them', async () => {
    const names = Array.from(
      { length: 30 },
      (_, day) => `company-auto-${stampOf(new Date(Date.now() - (day + 2) * 86_400_000))}.valvebook`,
    );
    for (const name of names) plant(join(folder, 'backups'), name);
    plant(folder, 'company-auto.valvebook');
    await open();
    await addClient('First');
    await desk.close();
    await open(AT_ONCE);
    await expect.poll(() => made().length, SOON).toBe(names.length + 1);
    await desk.close();
    expect(made()).toEqual(expect.arrayContaining(names));
    await open();
  });

  it('say that the second place is the one they are in already', async () => {
    await open();
    await addClient('First');
    await choose({ secondFolder: join(folder, 'backups') });
    await desk.close();
    await open(AT_ONCE);
    await expect
      .poll(async () => english((await call('book.backupState')).secondFailure), SOON)
      .toEqual(expect.stringMatching(/is the folder in which the backups are already\. Choose one on another disk/));
    expect(made()).toHaveLength(1);
  });

  it('say that the second place is not there, and are made all the same', async () => {
    await open();
    await addClient('First');
    await choose({ secondFolder: join(folder, 'unplugged') });
    await desk.close();
    await open(AT_ONCE);
    await expect
      .poll(async () => english((await call('book.backupState')).secondFailure), SOON)

      .toEqual(expect.stringMatching(/unplugged is not there now\. Connect the disk/));
    expect(made()).toHaveLength(1);
    expect(english(await call('book.backups'))).toMatchObject({
      secondFailure: expect.stringMatching(/not there now/),
    });
    expect(await call('book.check')).toMatchObject({ clean: true });
  });

  it('that fail say why, until one succeeds', async () => {
    plant(folder, 'backups');
    await open(AT_ONCE);
    await addClient('First');
    await expect
      .poll(async () => english((await call('book.backupState')).failure), SOON)
      .toEqual(expect.stringMatching(/^.{20,}[.]$/));
    expect(await call('book.backupState')).toMatchObject({ lastGoodAt: null });
    rmSync(join(folder, 'backups'));
    await expect.poll(async () => (await call('book.backupState')).failure, SOON).toBeNull();
    expect(made()).toHaveLength(1);
  });

  it('come before an import of more than 200 rows, and not before a short one', async () => {
    const list = (rows: number, of: string) =>
      base64(['name,street', ...Array.from({ length: rows }, (_, row) => `${of} ${row},${row} Oak St`)].join('\n'));
    await open({ firstAfterMs: 60_000_000, everyMs: 60_000_000 });
    await call('import.apply', { bytesBase64: list(200, 'Short') });
    expect(made(undefined, 'before-import')).toEqual([]);
    await call('import.apply', { bytesBase64: list(201, 'Long') });
    expect(made(undefined, 'before-import')).toHaveLength(1);
    rmSync(join(folder, 'backups'), { recursive: true });
    plant(folder, 'backups');
    const answer = await call('import.apply', { bytesBase64: list(201, 'Unsaved') });
    expect(english(answer).warnings.join(' ')).toMatch(/could not be backed up before this import/);
  });
});
