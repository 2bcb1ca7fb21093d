import type { AutomaticBackup } from '../book/index.ts';

/** The first screen comes first. */
const FIRST_AFTER_MS = 30_000;
/** Often enough that a machine that sleeps at night gets its backup soon after it wakes. */
const EVERY_MS = 20 * 60_000;

export interface BackupTimes {
  firstAfterMs: number;
  everyMs: number;
}

/**
 * Asks again and again, while a book is open, whether a backup is due. One at a time; a fault goes to the log and the next
 * turn tries again. Returns the way to stop asking.
 * @param times in milliseconds; true = 30 seconds after the book is opened, then every 20 minutes.
 */
export function keepBackups(
  times: BackupTimes | true,
  work: {
    /** Makes a backup if one is due; null where this is not the moment to ask. */
    run(): Promise<AutomaticBackup | null>;
    /** Called where something was made, or the outcome is another than before. */
    settle(done: AutomaticBackup): Promise<void>;
    log(text: string): void;
  },
): () => void {
  const { firstAfterMs, everyMs } = times === true ? { firstAfterMs: FIRST_AFTER_MS, everyMs: EVERY_MS } : times;
  let stopped = false;
  let timer = setTimeout(() => void turn(), firstAfterMs).unref();
  async function turn(): Promise<void> {
    try {
      const done = await work.run();
      if (!stopped && done !== null && (done.made !== null || done.changed)) await work.settle(done);
    } catch (error) {
      if (!stopped)
        work.log(`automatic backup: ${error instanceof Error ? (error.stack ?? error.message) : String(error)}`);
    }
    if (!stopped) timer = setTimeout(() => void turn(), everyMs).unref();
  }
  return () => {
    stopped = true;
    clearTimeout(timer);
  };
}
