import { z } from 'zod';
import { defineRequest } from '../contract/define-request.ts';
import { plainDateSchema, ulidSchema, toldSchema, VISIT_KINDS, lineSchema, notesSchema } from '../contract/parts.ts';
import { visitSchema } from '../visits/contract.ts';
import { ledgerEntrySchema, recordEntrySchema, ledgerDetailInputSchema } from '../ledger/entry-contract.ts';
import { programRevisionSchema, programSettingsSchema } from '../programs/contract.ts';
import { STORED } from '../text/stored.ts';

export const visitRecord = defineRequest({
  name: 'visit.record',
  kind: 'write',
  title:
    'Records work done as ledger entries, and what follows from it (battery dates, program revisions, seasons, the visit closed), all or nothing.',
  topics: ['visit', 'ledger', 'program', 'property'],
  input: z
    .object({
      writeId: ulidSchema,
      propertyId: ulidSchema,
      /** The planned visit this closes; or a new id together with unplannedKind for work nobody had booked. */
      visitId: ulidSchema.nullable().default(null),
      unplannedKind: z.enum(VISIT_KINDS).nullable().default(null),
      technicianId: ulidSchema.nullable().default(null),
      doneOn: plainDateSchema,
      /** False = keep the visit open (a part was logged, more follows). A winterization or start-up of the visit's kind always closes it. */
      closeVisit: z.boolean().default(true),
      entries: z.array(recordEntrySchema).max(100),
    })
    .refine((input) => input.entries.length > 0 || (input.visitId !== null && input.closeVisit), {
      path: ['entries'],
      message: 'must hold at least one entry, unless a visit is being closed',
    }),
  output: z.object({
    entries: z.array(ledgerEntrySchema),
    visit: visitSchema.nullable(),
    revisionIds: z.array(ulidSchema),
    cautions: z.array(toldSchema),
  }),
});

export const ledgerCorrect = defineRequest({
  name: 'ledger.correct',
  kind: 'write',
  title:
    'Corrects a ledger entry by a new one that points at it: replaced by other facts, or declared not to have happened. What followed from it is worked out again.',
  topics: ['ledger', 'visit', 'program', 'property'],
  input: z
    .object({
      writeId: ulidSchema,
      id: ulidSchema,
      correctsId: ulidSchema,
      correction: z.enum(['replace', 'void']),
      reason: lineSchema(300).refine((text) => text !== '', 'must say why'),
      /** With 'replace': the facts as they really were. */
      detail: ledgerDetailInputSchema.nullable().default(null),
      doneOn: plainDateSchema.optional(),
      note: notesSchema.optional(),
    })
    .refine((input) => (input.correction === 'replace') === (input.detail !== null), {
      path: ['detail'],
      message: "must be given with 'replace' and left out with 'void'",
    }),
  output: z.object({ entry: ledgerEntrySchema, revisionIds: z.array(ulidSchema) }),
});

/**
 * The revision from which the settings were begun. Where the program is set otherwise by now, the request is refused with
 * what changed, so that nobody's change is overridden unseen; whoever wants that sends the one in force. Left out = not asked.
 */
const seenRevisionId = ulidSchema.nullable().optional();

export const programRevise = defineRequest({
  name: 'program.revise',
  kind: 'write',
  title:
    "Makes a new dated revision of a program, or a new program on a controller, and its ledger entry. (A technician's change on site goes through visit.record.)",
  topics: ['program', 'ledger'],
  input: z.object({
    writeId: ulidSchema,
    programId: ulidSchema,
    revisionId: ulidSchema,
    /** Needed for a new program. */
    controllerId: ulidSchema.nullable().default(null),
    /** Of a new program; one that there is keeps its own. */
    name: lineSchema(40).default(''),
    effectiveDate: plainDateSchema,
    settings: programSettingsSchema,
    madeBy: lineSchema(120).default(STORED.office),
    reason: lineSchema(300).default(''),
    seenRevisionId,
    /** Id for the ledger entry; made by the book where it is left out. */
    entryId: ulidSchema.optional(),
  }),
  output: z.object({ revision: programRevisionSchema, entryId: ulidSchema }),
});

export const programAccept = defineRequest({
  name: 'program.accept',
  kind: 'write',
  title: 'Turns chosen rows of a review into new program revisions and ledger entries.',
  topics: ['program', 'ledger', 'visit', 'property'],
  input: z.object({
    writeId: ulidSchema,
    propertyId: ulidSchema,
    technicianId: ulidSchema.nullable().default(null),
    visitId: ulidSchema.nullable().default(null),
    doneOn: plainDateSchema,
    /** One per program changed; ids made by the caller. */
    programs: z
      .array(
        z.object({
          programId: ulidSchema,
          revisionId: ulidSchema,
          entryId: ulidSchema,
          /** For a program that does not exist yet. */
          controllerId: ulidSchema.nullable().default(null),
          name: lineSchema(40).default(''),
          settings: programSettingsSchema,
          seenRevisionId,
        }),
      )
      .min(1)
      .max(20),
    reason: lineSchema(300).default('review accepted'),
  }),
  output: z.object({ revisionIds: z.array(ulidSchema), entryIds: z.array(ulidSchema) }),
});
