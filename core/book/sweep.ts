import { lstatSync, readdirSync, rmSync } from 'node:fs';
import { basename, dirname, join } from 'node:path';

// Files half-written by a Valvebook that was killed: .NAME.PID-LETTERS.part (a backup, an export, the copy before an upgrade), .restoring (a restore),
// .NAME.making-PID and .NAME.demo-PID (a demo), with SQLite's files beside them. They are swept when the book is opened for writing.

const LEFTOVER =
  /^\.(.+)\.(?:(\d{1,10})-[0-9a-z]{6,30}\.(part|restoring|making)|(?:making|demo)-(\d{1,10}))(?:-wal|-shm|-journal|-lock)?$/;
/** Younger ones may be somebody's at work on another machine that shares the folder; in milliseconds. */
const OLD_ENOUGH_MS = 10 * 60_000;

/** Removes leftovers of dead processes beside a book and in its folders of backups and exports; never fails. Returns what it removed. */
export function sweepLeftovers(bookPath: string): string[] {
  const folder = dirname(bookPath);
  const removed: string[] = [];
  for (const where of [folder, join(folder, 'backups'), join(folder, 'exports')]) {
    for (const name of namesIn(where)) {
      const path = join(where, name);
      if (!isLeftover(name, basename(bookPath)) || !isOld(path)) continue;
      try {
        rmSync(path);
        removed.push(path);
      } catch {
        // What cannot be removed harms nobody; the next start tries again.
      }
    }
  }
  return removed;
}

/** Is it a name that only Valvebook gives, of a process that no longer runs? */
function isLeftover(name: string, book: string): boolean {
  const match = LEFTOVER.exec(name);
  if (match === null) return false;
  const [, of, pid, ending, makingPid] = match;
  // Another book's restore or demo in the same folder is that book's to sweep.
  if (ending === 'part' ? !/\.(valvebook|zip|before-\d+-\d+)$/.test(of!) : of !== book) return false;
  return !runs(Number(pid ?? makingPid));
}

function isOld(path: string): boolean {
  const stat = lstatSync(path, { throwIfNoEntry: false });
  return stat !== undefined && stat.isFile() && Date.now() - stat.mtimeMs > OLD_ENOUGH_MS;
}

function runs(pid: number): boolean {
  // In a container every start has the same number: a file of this number that is old is not this process's.
  if (pid === process.pid) return process.uptime() * 1000 > OLD_ENOUGH_MS;
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    // EPERM: it runs, as somebody else.
    return (error as NodeJS.ErrnoException).code !== 'ESRCH';
  }
}

function namesIn(folder: string): string[] {
  try {
    return readdirSync(folder);
  } catch {
    return [];
  }
}
