import { z } from 'zod';
import { bytesBase64Schema, ulidSchema, toldSchema } from '../contract/parts.ts';
import { defineRequest } from '../contract/define-request.ts';

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
