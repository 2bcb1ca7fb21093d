import {
  chmodSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  rmSync,
  statSync,
  symlinkSync,
  utimesSync,
  writeFileSync,
} from 'node:fs';
import { spawnSync } from 'node:child_process';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { ulid } from 'ulid';
import { describe, expect, it, onTestFinished } from 'vitest';
import { sweepLeftovers } from '../../core/book/sweep.ts';
import { openDesk, type Desk } from '../../core/desk/desk.ts';
import { english } from './english.ts';

const modeOf = (path: string) => (statSync(path).mode & 0o7777).toString(8).padStart(4, '0');

async function deskIn(folderMode: number): Promise<{ folder: string; path: string; desk: Desk }> {
  const folder = mkdtempSync(join(tmpdir(), 'valvebook-private-'));
  chmodSync(folder, folderMode);
  const path = join(folder, 'book.valvebook');
  const desk = await openDesk({ bookPath: path, create: true });
  onTestFinished(async () => {
    await desk.close();
    rmSync(folder, { recursive: true, force: true });
  });
  return { folder, path, desk };
}

async function call(desk: Desk, name: string, input: object = {}): Promise<any> {
  const reply = await desk.call(name, input);
  if (!reply.ok) throw new Error(`${name}: ${reply.error.code} ${reply.error.message}`);
  return reply.data;
}

// Windows knows no such modes.
describe.skipIf(process.platform === 'win32')('a book that is open to others', () => {
  it('is said so with each file and its mode, and made private at one press; work goes on', async () => {
    const { folder, path, desk } = await deskIn(0o755);
    const { path: backup } = await call(desk, 'book.backup');
    const { path: exported } = await call(desk, 'export.book');
    for (const one of [path, `${path}-wal`, `${path}-shm`, backup, exported]) chmodSync(one, 0o644);
    for (const one of ['backups', 'exports']) chmodSync(join(folder, one), 0o755);
    chmodSync(folder, 0o777);
    // What is not Valvebook's stays as it is.
    const stranger = join(folder, 'backups', 'letter.txt');
    writeFileSync(stranger, 'mine');
    chmodSync(stranger, 0o644);

    const { openToOthers } = await call(desk, 'book.info');
    expect(openToOthers.canMend).toBe(true);
    const said = Object.fromEntries(
      openToOthers.paths.map((one: { path: string; mode: string; others: string }) => [
        one.path,
        `${one.mode} ${one.others}`,
      ]),
    );
    expect(said).toEqual({
      [folder]: '0777 change',
      [path]: '0644 read',
      [`${path}-wal`]: '0644 read',
      [`${path}-shm`]: '0644 read',
      [join(folder, 'backups')]: '0755 read',
      [backup]: '0644 read',
      [join(folder, 'exports')]: '0755 read',
      [exported]: '0644 read',
    });
    const checked = await call(desk, 'book.check');
    expect(checked.clean).toBe(true);
    expect(english(checked.notes).join('\n')).toContain(`Other users of this machine may read ${path} (mode 0644)`);

    const topics: string[][] = [];
    desk.onChange((changed) => topics.push(changed));
    const done = await call(desk, 'book.makePrivate');
    expect(done.openToOthers).toBeNull();
    expect(done.changed).toHaveLength(8);
    expect(topics).toEqual([['book']]);
    for (const one of [path, `${path}-wal`, `${path}-shm`, backup, exported]) expect(modeOf(one), one).toBe('0600');
    for (const one of ['backups', 'exports']) expect(modeOf(join(folder, one))).toBe('0700');
    // The book's own folder may hold other things: others lose only the right to write in it.
    expect(modeOf(folder)).toBe('0755');
    expect(modeOf(stranger)).toBe('0644');
    expect((await call(desk, 'book.info')).openToOthers).toBeNull();
    expect((await call(desk, 'book.check')).notes).toEqual([]);
    await call(desk, 'people.save', { writeId: ulid(), trucks: [{ id: ulid(), name: 'T1' }] });
  });

  it('is one too where what was rescued of it, or its backups in the second place, are open: both are said and closed', async () => {
    const { folder, path, desk } = await deskIn(0o755);
    const second = join(folder, 'second');
    mkdirSync(second);
    chmodSync(second, 0o755);
    const settings = await call(desk, 'settings.get');
    await call(desk, 'settings.save', {
      writeId: ulid(),
      settings: { ...settings, backups: { ...settings.backups, secondFolder: second } },
    });
    const put = (file: string) => {
      writeFileSync(file, 'x');
      chmodSync(file, 0o644);
      return file;
    };
    const ours = [
      put(join(folder, 'book-rescued-2026-06-15-101112.valvebook')),
      put(join(folder, 'book-rescued-2026-06-15-101112.valvebook-wal')),
      put(join(folder, 'book-rescued-2026-06-15-101112-2.valvebook')),
      put(join(second, 'book-auto-2026-06-15-101112.valvebook')),
      put(join(second, 'book-auto-2026-06-15-101112.valvebook.seal.txt')),
    ];
    const others = [
      put(join(folder, 'book-rescued-dogs.txt')),
      put(join(second, 'other-auto-2026-06-15-101112.valvebook')),
      put(join(second, 'letter.txt')),
    ];
    const { openToOthers } = await call(desk, 'book.info');
    expect(openToOthers.paths.map((one: { path: string }) => one.path).sort()).toEqual(ours.toSorted());
    expect((await call(desk, 'book.check')).notes).toHaveLength(ours.length);
    expect((await call(desk, 'book.makePrivate')).openToOthers).toBeNull();
    for (const one of ours) expect(modeOf(one), one).toBe('0600');
    for (const one of others) expect(modeOf(one), one).toBe('0644');
    expect(modeOf(second)).toBe('0755');

    chmodSync(ours[3]!, 0o644);
    chmodSync(second, 0o700);
    expect((await call(desk, 'book.info')).openToOthers).toBeNull();
    rmSync(second, { recursive: true });
    expect((await call(desk, 'book.info')).path).toBe(path);
  });

  it('is not one whose folder lets nobody in', async () => {
    const { path, desk } = await deskIn(0o700);
    chmodSync(path, 0o644);
    expect((await call(desk, 'book.info')).openToOthers).toBeNull();
  });

  it('opening it changes no mode: a share may be meant', async () => {
    const { path, desk } = await deskIn(0o755);
    await desk.close();
    chmodSync(path, 0o644);
    const again = await openDesk({ bookPath: path });
    onTestFinished(() => again.close());
    expect(modeOf(path)).toBe('0644');
    expect((await call(again, 'book.info')).openToOthers).not.toBeNull();
  });
});

describe('leftovers of a Valvebook that was killed', () => {
  it('are swept when the book is opened for writing: ours, old, and of a process that no longer runs', async () => {
    const folder = mkdtempSync(join(tmpdir(), 'valvebook-sweep-'));
    onTestFinished(() => rmSync(folder, { recursive: true, force: true }));
    const path = join(folder, 'book.valvebook');
    for (const one of ['backups', 'exports', 'notes']) mkdirSync(join(folder, one));
    // A process that has ended, so that its number is nobody's.
    const dead = Number(spawnSync(process.execPath, ['-e', 'console.log(process.pid)'], { encoding: 'utf8' }).stdout);
    const alive = process.ppid;
    const put = (name: string, minutes = 60) => {
      const file = join(folder, name);
      writeFileSync(file, 'x');
      const at = Date.now() / 1000 - minutes * 60;
      utimesSync(file, at, at);
      return file;
    };
    const gone = [
      put(`.book.valvebook.${dead}-mb3k2x1z.restoring`),
      put(`.book.valvebook.${dead}-mb3k2x1z.restoring-wal`),
      put(`.book.valvebook.${dead}-mb3k2x1z0a1b2c3d.restoring-shm`),
      put(`.book.valvebook.making-${dead}`),
      put(`.book.valvebook.demo-${dead}-wal`),
      put(`.copy.valvebook.${dead}-mb3k2x1z.part`),
      put(`.copy.valvebook.before-2-1795658070922.${dead}-mb3k2x1z.part`),
      put(`backups/.book-2026-01-01-101112.valvebook.${dead}-mb3k2x1z.part`),
      put(`backups/.book-2026-01-01-101112.valvebook.${dead}-mb3k2x1z.part-journal`),
      put(`exports/.My-company-2026-01-01.zip.${dead}-mb3k2x1z.part`),
    ];
    const kept = [
      put(`.book.valvebook.${alive}-mb3k2x1z.restoring`),
      put(`.book.valvebook.${dead}-mb3k2x1y.restoring`, 2),
      put(`.other.valvebook.${dead}-mb3k2x1z.restoring`),
      put(`.letter.doc.${dead}-mb3k2x1z.part`),
      put(`book.valvebook.${dead}-mb3k2x1z.restoring`),
      put(`.book.valvebook.${dead}-mb3k2x1z.restoring.txt`),
      put(`.book.valvebook.x${dead}-mb3k2x1z.restoring`),
      put(`notes/.book.valvebook.${dead}-mb3k2x1z.part`),
      put('backups/book-2026-01-01-101112.valvebook'),
      put('film.part'),
    ];
    const folderOfThatName = join(folder, `.book.valvebook.${dead}-mb3k2x1f.restoring`);
    mkdirSync(folderOfThatName);
    const link = join(folder, `.book.valvebook.${dead}-mb3k2x1l.restoring`);
    if (process.platform !== 'win32') symlinkSync(join(folder, 'film.part'), link);

    const reading = await openDesk({ bookPath: path, create: true });
    await reading.close();
    for (const file of gone) expect(existsSync(file), file).toBe(false);
    for (const file of [...kept, folderOfThatName]) expect(existsSync(file), file).toBe(true);
    if (process.platform !== 'win32') expect(existsSync(link)).toBe(true);
    expect(sweepLeftovers(path)).toEqual([]);
  });
});
