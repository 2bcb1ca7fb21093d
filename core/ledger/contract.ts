import { z } from 'zod';
import { defineRequest } from '../contract/define-request.ts';
import { pageFields, plainDateSchema, ulidSchema } from '../contract/parts.ts';
import { LEDGER_KINDS, ledgerEntrySchema } from './entry-contract.ts';

export const ledgerList = defineRequest({
  name: 'ledger.list',
  kind: 'read',
  title: "Ledger entries as the corrected truth, newest first; with one entry's id, its whole history.",
  slow: true,
  topics: ['ledger', 'people', 'client', 'property'],
  input: z.object({
    propertyId: ulidSchema.nullable().default(null),
    visitId: ulidSchema.nullable().default(null),
    technicianId: ulidSchema.nullable().default(null),
    sensorId: ulidSchema.nullable().default(null),
    kinds: z.array(z.enum(LEDGER_KINDS)).max(LEDGER_KINDS.length).optional(),
    fromDate: plainDateSchema.optional(),
    toDate: plainDateSchema.optional(),
    /** Every version of this entry, oldest first; the other filters are not used. */
    historyOfId: ulidSchema.nullable().default(null),
    /** Also show entries that were declared not to have happened. */
    includeVoid: z.boolean().default(false),
    ...pageFields,
  }),
  output: z.object({ entries: z.array(ledgerEntrySchema), total: z.int() }),
});
