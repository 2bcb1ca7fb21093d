import { z } from 'zod';
import { LANGUAGES } from '../text/words.ts';
import { defineRequest } from '../contract/define-request.ts';
import { plainDateSchema, fullPathSchema, TOPICS, toldSchema } from '../contract/parts.ts';

/** What others of this machine may do with a book's files; null = nothing (on Windows the user's profile keeps them out). */
const openToOthersSchema = z
  .object({
    paths: z.array(z.object({ path: z.string(), mode: z.string(), others: z.enum(['read', 'change']) })),
    /** All of them belong to whoever runs Valvebook. */
    canMend: z.boolean(),
  })
  .nullable();

export const bookInfo = defineRequest({
  name: 'book.info',
  kind: 'read',
  title: 'Where the book is, its version, and how much it holds.',
  topics: ['book', 'client', 'property', 'program', 'visit', 'ledger', 'people', 'weather', 'settings'],
  input: z.object({}),
  output: z.object({
    path: z.string(),
    schemaVersion: z.int(),
    bytes: z.number(),
    companyName: z.string(),
    counts: z.record(z.string(), z.int()),
    today: z.string(),
    openToOthers: openToOthersSchema,
  }),
});

export const bookToday = defineRequest({
  name: 'book.today',
  kind: 'read',
  title: "The company's own date, in its time zone.",
  topics: ['settings'],
  input: z.object({}),
  output: z.object({ today: plainDateSchema }),
});

export const bookMakePrivate = defineRequest({
  name: 'book.makePrivate',
  kind: 'job',
  title: "Takes away what other users of this machine may do with the book's files, its backups and exports.",
  topics: ['book'],
  changesBook: true,
  input: z.object({}),
  output: z.object({
    changed: z.array(z.object({ path: z.string(), before: z.string(), after: z.string() })),
    /** What is left; null = nothing. */
    openToOthers: openToOthersSchema,
  }),
});

/** A seal as it was noted: its digits (64, or their beginning, 16 at least), blanks and capitals as they come. */
export const notedSealSchema = z.object({
  /** When it was taken, for the sentence about it. */
  date: plainDateSchema.optional(),
  /** How many entries and revisions it counts; it stands beside every seal. */
  count: z.int().min(0, 'must be 0 or more').max(1e12, 'must be at most 1,000,000,000,000'),
  seal: z
    .string()
    .max(200, 'must be at most 200 characters long')
    .transform((text) => text.replaceAll(/\s+/g, '').toLowerCase())
    .pipe(z.string().regex(/^[0-9a-f]{16,64}$/, 'must be the digits 0 to 9 and a to f of a seal, at least 16')),
});

const sealFields = {
  date: z.string(),
  /** Ledger entries and program revisions in the book. */
  count: z.int(),
  /** SHA-256 over the ends of all properties' chains, 64 hexadecimal digits. */
  seal: z.string(),
};

export const bookSeal = defineRequest({
  name: 'book.seal',
  kind: 'read',
  title: 'The seal of the book as it is now: kept elsewhere, it proves whether what it counts was changed later.',
  topics: ['book', 'ledger', 'program', 'settings'],
  input: z.object({}),
  output: z.object(sealFields),
});

export const bookCheck = defineRequest({
  name: 'book.check',
  kind: 'job',
  title:
    'Checks the book: file integrity, foreign keys, that the past is as it was sealed in, and that everything the ledger decides agrees with it.',
  topics: ['book'],
  input: z.object({
    /** Seals noted earlier: each must be what the book was when it had so many entries and revisions. */
    seals: z.array(notedSealSchema).max(100).default([]),
  }),
  output: z.object({
    clean: z.boolean(),
    checks: z.array(
      z.object({ name: toldSchema, passed: z.boolean(), looked: z.int(), findings: z.array(toldSchema) }),
    ),
    /** Null where the past could not be read, or is not as it was sealed in. */
    chain: z
      .object({
        ...sealFields,
        /** So many entries and revisions were there before the chain was; what was changed before `chainedAt` cannot be noticed. */
        chainedLinks: z.int(),
        chainedAt: z.string().nullable(),
      })
      .nullable(),
    /** Worth knowing, but nothing wrong with the book. */
    notes: z.array(toldSchema),
  }),
});

export const bookBackup = defineRequest({
  name: 'book.backup',
  kind: 'job',
  title: 'Copies the book, consistent while in use, into its backups folder or to a path.',
  topics: ['book'],
  input: z.object({ toPath: fullPathSchema.optional() }),
  output: z.object({
    path: z.string(),
    bytes: z.number(),
    /** A text file beside the copy with its seal; null where it could not be written. The copy is whole all the same. */
    sealPath: z.string().nullable(),
  }),
});

export const bookRestore = defineRequest({
  name: 'book.restore',
  kind: 'job',
  title: 'Puts a backup in the place of the open book, after backing that one up.',
  topics: TOPICS,
  changesBook: true,
  input: z.object({ fromPath: fullPathSchema }),
  output: z.object({
    restoredFrom: z.string(),
    previousSavedAs: z.string(),
    /** The backup had other choices of when and where backups are made; those of the book before were kept. */
    keptBackupChoices: z.boolean(),
  }),
});

export const exportBook = defineRequest({
  name: 'export.book',
  kind: 'job',
  title: 'Writes every table as CSV into one zip beside the book, or to a path.',
  topics: ['book'],
  input: z.object({
    toPath: fullPathSchema.optional(),
    /** Of its README; the company's where none is asked for. */
    language: z.enum(LANGUAGES).optional(),
  }),
  output: z.object({
    path: z.string(),
    bytes: z.number(),
    tables: z.array(z.object({ name: z.string(), rows: z.int() })),
  }),
});

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
