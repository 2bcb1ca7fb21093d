import { backUpIfDue } from '../book/index.ts';
import { prepareRestore, type PreparedRestore } from './restore.ts';
import type { JobContext } from '../context.ts';

/** Jobs that the desk itself starts; no host can ask for them, and they are in no contract. */
export const innerJobs = {
  /** The long part of a restore: the book stays open and in use meanwhile. */
  'restore.prepare': (context: JobContext, { fromPath }: { fromPath: string }): Promise<PreparedRestore> =>
    prepareRestore(context, { bookPath: context.bookPath, fromPath }),
  /** SQLite's own check of the file, which hears nothing until it has ended. */
  'file.look': async (context: JobContext) => context.fileFindings(),
  /** Backs the book up if that is due. */
  'backup.auto': (context: JobContext) => backUpIfDue(context),
};
