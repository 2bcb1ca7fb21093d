import { z } from 'zod';
import { defineRequest } from './define-request.ts';
import { toldSchema } from './parts.ts';

/** Who made a backup, and why. */
export const BACKUP_KINDS = ['auto', 'by-hand', 'before-import', 'before-restore', 'before-upgrade'] as const;
export type BackupKind = (typeof BACKUP_KINDS)[number];

const moment = z.string();

export const bookBackupState = defineRequest({
  name: 'book.backupState',
  kind: 'read',
  title: 'When the book was last backed up, and for how many days its changes have been in no backup.',
  topics: ['book', 'settings'],
  input: z.object({}),
  output: z.object({
    /** The newest good backup in the backups folder, UTC. */
    lastGoodAt: moment.nullable(),
    lastChangeAt: moment.nullable(),
    /** Whole days in which changes have been in no good backup; 0 = the last one holds everything. */
    daysWithout: z.int(),
    /** Why the last backup by itself failed, or did not reach the second place. */
    failure: toldSchema.nullable(),
    secondFailure: toldSchema.nullable(),
    automatic: z.boolean(),
    /** This host makes backups by itself while it runs; the command line does not. */
    runsHere: z.boolean(),
  }),
});

export const bookBackups = defineRequest({
  name: 'book.backups',
  kind: 'read',
  title: 'The backups of this book, newest first: beside it and in the second place.',
  topics: ['book', 'settings'],
  input: z.object({}),
  output: z.object({
    backups: z.array(
      z.object({
        path: z.string(),
        at: moment,
        bytes: z.number(),
        kind: z.enum(BACKUP_KINDS),
        /** It was opened and looked at before it got its name. */
        verified: z.boolean(),
        where: z.enum(['beside', 'second']),
      }),
    ),
    /** Why the second place cannot be read. */
    secondFailure: toldSchema.nullable(),
  }),
});
