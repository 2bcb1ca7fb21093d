import { z } from 'zod';
import { defineRequest } from './define-request.ts';
import { bytesBase64Schema, fullPathSchema, plainDateSchema, ulidSchema, TOPICS, toldSchema } from './parts.ts';
import { restrictionSchema, settingsSchema, thumbRuleSchema, weatherStationSchema } from './entities.ts';

export const settingsGet = defineRequest({
  name: 'settings.get',
  kind: 'read',
  title: "The company's settings.",
  topics: ['settings'],
  input: z.object({}),
  output: settingsSchema,
});
export const settingsSave = defineRequest({
  name: 'settings.save',
  kind: 'write',
  title: "Saves the company's settings.",
  topics: ['settings'],
  input: z.object({ writeId: ulidSchema, settings: settingsSchema }),
  output: settingsSchema,
});

export const rulesList = defineRequest({
  name: 'rules.list',
  kind: 'read',
  title: "Watering restrictions and the company's rules of thumb.",
  topics: ['rules'],
  input: z.object({}),
  output: z.object({ restrictions: z.array(restrictionSchema), thumbRules: z.array(thumbRuleSchema) }),
});
export const rulesSave = defineRequest({
  name: 'rules.save',
  kind: 'write',
  title: 'Adds or saves watering restrictions; replaces the table of thumb rules where one is given.',
  topics: ['rules'],
  input: z.object({
    writeId: ulidSchema,
    restrictions: z.array(restrictionSchema).max(200).default([]),
    thumbRules: z.array(thumbRuleSchema).max(200).optional(),
  }),
  output: z.object({ saved: z.int() }),
});

export const stationList = defineRequest({
  name: 'station.list',
  kind: 'read',
  title: 'Weather stations with their monthly normals and how many days of records they hold.',
  topics: ['weather'],
  input: z.object({}),
  output: z.object({
    stations: z.array(
      weatherStationSchema.extend({
        dailyRecords: z.int(),
        firstDate: z.string().nullable(),
        lastDate: z.string().nullable(),
      }),
    ),
  }),
});
export const stationSave = defineRequest({
  name: 'station.save',
  kind: 'write',
  title: 'Adds or saves a weather station with its twelve monthly normals.',
  topics: ['weather'],
  input: z.object({ writeId: ulidSchema, station: weatherStationSchema }),
  output: z.object({ stationId: ulidSchema }),
});

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
      z.object({ name: z.string(), passed: z.boolean(), looked: z.int(), findings: z.array(z.string()) }),
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
    /** Worth knowing, but nothing wrong with the book: sentences. */
    notes: z.array(z.string()),
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
  output: z.object({ restoredFrom: z.string(), previousSavedAs: z.string() }),
});
export const exportBook = defineRequest({
  name: 'export.book',
  kind: 'job',
  title: 'Writes every table as CSV into one zip beside the book, or to a path.',
  topics: ['book'],
  input: z.object({ toPath: fullPathSchema.optional() }),
  output: z.object({
    path: z.string(),
    bytes: z.number(),
    tables: z.array(z.object({ name: z.string(), rows: z.int() })),
  }),
});

// ---- import -----------------------------------------------------------------
export const IMPORT_TARGETS = ['clients', 'zones', 'work', 'weather'] as const;
const importSource = {
  target: z.enum(IMPORT_TARGETS).default('clients'),
  fileName: z.string().max(260).default('list.csv'),
  bytesBase64: bytesBase64Schema,
  /** Left out: found out from the bytes. */
  encoding: z.enum(['utf-8', 'windows-1252']).optional(),
  delimiter: z.enum([',', ';', '\t', '|']).optional(),
  hasHeader: z.boolean().default(true),
  /** Column index (from 0) → field name; left out: remembered from last time, else guessed. '' = leave this column out. */
  mapping: z.record(z.string().regex(/^\d{1,4}$/), z.string().max(60)).optional(),
  /** Weather imports go to this station. */
  stationId: ulidSchema.nullable().default(null),
  dateOrder: z.enum(['auto', 'month-first', 'day-first']).default('auto'),
};
export const importProblemSchema = z.object({
  row: z.int(),
  column: z.string(),
  value: z.string(),
  reason: toldSchema,
});
const importPlanFields = {
  target: z.enum(IMPORT_TARGETS),
  encoding: z.string(),
  delimiter: z.string(),
  rowCount: z.int(),
  goodRows: z.int(),
  badRows: z.int(),
  ignoredRows: z.int(),
  /** One per faulty cell, at most 2,000; the counts above are complete. */
  problems: z.array(importProblemSchema),
  /** Blank lines, totals rows, repeated headers, with row number and why. At most 500. */
  ignored: z.array(z.object({ row: z.int(), why: toldSchema })),
  warnings: z.array(toldSchema),
};
export const importPreview = defineRequest({
  name: 'import.preview',
  kind: 'job',
  title:
    'Reads a CSV and shows what an import would do: columns, their guessed fields, every bad row and why. Changes nothing.',
  topics: [],
  input: z.object(importSource),
  output: z.object({
    ...importPlanFields,
    columns: z.array(
      z.object({
        index: z.int(),
        header: z.string(),
        samples: z.array(z.string()),
        field: z.string(),
        how: z.enum(['remembered', 'guessed', 'given', 'none']),
      }),
    ),
    fields: z.array(z.object({ name: z.string(), label: toldSchema, required: z.boolean() })),
    /** The first rows as they would be saved. */
    sample: z.array(z.record(z.string(), z.string())),
    wouldAdd: z.record(z.string(), z.int()),
    wouldJoin: z.int(),
    wouldSkip: z.int(),
  }),
});
export const importApply = defineRequest({
  name: 'import.apply',
  kind: 'job',
  title: 'Imports a CSV: all good rows, or nothing unless every row is good. The same file twice adds nothing.',
  topics: ['client', 'property', 'program', 'visit', 'ledger', 'people', 'weather'],
  changesBook: true,
  input: z.object({ ...importSource, mode: z.enum(['good-rows', 'all-or-none']).default('good-rows') }),
  output: z.object({
    ...importPlanFields,
    applied: z.boolean(),
    added: z.record(z.string(), z.int()),
    /** Rows that joined an existing client or property. */
    joined: z.int(),
    /** Rows that were in the book already. */
    skipped: z.int(),
    outcomes: z.array(z.object({ row: z.int(), outcome: z.enum(['added', 'joined', 'skipped']), what: toldSchema })),
  }),
});
