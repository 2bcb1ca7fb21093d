import { z } from 'zod';
import { DUE_KINDS } from './clients.ts';
import { defineRequest } from './define-request.ts';
import {
  clockTimeSchema,
  lineSchema,
  notesSchema,
  pageFields,
  plainDateSchema,
  reckonedDateSchema,
  ulidSchema,
  toldSchema,
} from './parts.ts';
import {
  type SKILLS,
  technicianSchema,
  truckSchema,
  routeSchema,
  visitSchema,
  MAX_VISITS_A_DAY,
  VISIT_KINDS,
  VISIT_STATES,
} from './entities.ts';
import { LEDGER_KINDS, ledgerDetailInputSchema, ledgerEntrySchema, recordEntrySchema } from './ledger-entries.ts';

const slotFields = {
  date: plainDateSchema,
  windowFrom: clockTimeSchema.nullable().default(null),
  windowTo: clockTimeSchema.nullable().default(null),
  technicianId: ulidSchema.nullable().default(null),
};

export const visitBook = defineRequest({
  name: 'visit.book',
  kind: 'write',
  title: "Books a visit; without an order it goes to the end of the technician's day.",
  topics: ['visit'],
  input: z.object({
    writeId: ulidSchema,
    visitId: ulidSchema,
    propertyId: ulidSchema,
    kind: z.enum(VISIT_KINDS),
    ...slotFields,
    orderInDay: z.int().min(1).max(MAX_VISITS_A_DAY).optional(),
    expectedMinutes: z.int().min(5).max(600).optional(),
    note: notesSchema.default(''),
  }),
  output: z.object({ visit: visitSchema, warnings: z.array(toldSchema) }),
});

export const visitMove = defineRequest({
  name: 'visit.move',
  kind: 'write',
  title: 'Moves a planned visit to another day, technician, window or place in the day.',
  topics: ['visit'],
  input: z.object({
    writeId: ulidSchema,
    visitId: ulidSchema,
    ...slotFields,
    orderInDay: z.int().min(1).max(MAX_VISITS_A_DAY).optional(),
    locked: z.boolean().optional(),
    note: notesSchema.optional(),
  }),
  output: z.object({ visit: visitSchema, before: visitSchema, warnings: z.array(toldSchema) }),
});

export const visitCancel = defineRequest({
  name: 'visit.cancel',
  kind: 'write',
  title: 'Cancels a planned visit, or with restore brings a cancelled one back.',
  topics: ['visit'],
  input: z.object({
    writeId: ulidSchema,
    visitId: ulidSchema,
    reason: lineSchema(300).default(''),
    restore: z.boolean().default(false),
  }),
  output: z.object({ visit: visitSchema }),
});

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

export const visitRowSchema = visitSchema.extend({
  clientId: ulidSchema,
  clientName: z.string(),
  phone: z.string(),
  street: z.string(),
  city: z.string(),
  latitudeDeg: z.number().nullable(),
  longitudeDeg: z.number().nullable(),
  technicianName: z.string().nullable(),
  /** The property's route, so that a calendar can show one route. */
  routeId: ulidSchema.nullable().optional(),
});
export type VisitRow = z.infer<typeof visitRowSchema>;

export const visitList = defineRequest({
  name: 'visit.list',
  kind: 'read',
  title: 'Visits between two dates, with who and where, by day, technician and order.',
  slow: true,
  topics: ['visit', 'client', 'property', 'people'],
  input: z.object({
    fromDate: plainDateSchema,
    toDate: plainDateSchema,
    technicianId: ulidSchema.nullable().default(null),
    propertyId: ulidSchema.nullable().default(null),
    states: z.array(z.enum(VISIT_STATES)).max(3).default(['planned', 'done']),
    limit: z.int().min(1).max(5000).default(2000),
  }),
  output: z.object({
    visits: z.array(visitRowSchema),
    total: z.int(),
    /** Booked minutes and room per technician and day. */
    load: z.array(
      z.object({
        date: plainDateSchema,
        technicianId: ulidSchema.nullable(),
        visits: z.int(),
        bookedMinutes: z.int(),
        availableMinutes: z.int(),
      }),
    ),
  }),
});

/** Everything a technician needs at the gate, for each stop of one day. */
export const dayOpen = defineRequest({
  name: 'day.open',
  kind: 'read',
  title: "A technician's day in order, with access notes, shutoff, sensors, programs and what was found last time.",
  topics: ['visit', 'client', 'property', 'ledger', 'people', 'settings'],
  input: z.object({ technicianId: ulidSchema, date: plainDateSchema }),
  output: z.object({
    technician: technicianSchema,
    truck: truckSchema.nullable(),
    stops: z.array(
      z.object({
        visit: visitSchema,
        clientName: z.string(),
        phone: z.string(),
        street: z.string(),
        city: z.string(),
        label: z.string(),
        gateCode: z.string(),
        dogNote: z.string(),
        accessNotes: z.string(),
        shutoffLocation: z.string(),
        waterSupply: z.string(),
        backflowKind: z.string(),
        backflowLocation: z.string(),
        zoneCount: z.int(),
        sensorCount: z.int(),
        due: z.array(z.object({ kind: z.enum(DUE_KINDS), why: toldSchema })),
        lastEntries: z.array(ledgerEntrySchema),
      }),
    ),
  }),
});

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

export const peopleList = defineRequest({
  name: 'people.list',
  kind: 'read',
  title: 'Technicians, trucks and routes.',
  topics: ['people'],
  input: z.object({}),
  output: z.object({
    technicians: z.array(technicianSchema),
    trucks: z.array(truckSchema),
    routes: z.array(routeSchema),
  }),
});

export const peopleSave = defineRequest({
  name: 'people.save',
  kind: 'write',
  title: 'Adds or saves technicians, trucks and routes.',
  topics: ['people'],
  input: z.object({
    writeId: ulidSchema,
    technicians: z.array(technicianSchema).max(200).default([]),
    trucks: z.array(truckSchema).max(200).default([]),
    routes: z.array(routeSchema).max(500).default([]),
  }),
  output: z.object({ saved: z.int() }),
});

export const workSummary = defineRequest({
  name: 'work.summary',
  kind: 'read',
  title: 'Counts for the owner: season progress, and work by kind, month and technician, corrections counted once.',
  slow: true,
  topics: ['visit', 'ledger', 'property', 'people', 'settings'],
  input: z.object({ year: z.int().min(1990).max(2199), onDate: plainDateSchema.optional() }),
  output: z.object({
    year: z.int(),
    properties: z.object({ total: z.int(), startUp: progressSchema(), winterization: progressSchema() }),
    byMonth: z.array(z.object({ month: z.int(), kind: z.enum(LEDGER_KINDS), count: z.int() })),
    byTechnician: z.array(
      z.object({ technicianId: ulidSchema.nullable(), name: z.string(), visits: z.int(), entries: z.int() }),
    ),
    visitsByMonth: z.array(z.object({ month: z.int(), planned: z.int(), done: z.int(), cancelled: z.int() })),
    corrections: z.int(),
    years: z.array(z.int()),
  }),
});
function progressSchema() {
  return z.object({
    serviced: z.int(),
    done: z.int(),
    booked: z.int(),
    notBooked: z.int(),
    byWeek: z.array(z.object({ weekStart: reckonedDateSchema, done: z.int() })),
  });
}

export const SKILL_FOR_VISIT: Partial<Record<(typeof VISIT_KINDS)[number], (typeof SKILLS)[number]>> = {
  'start-up': 'start-up',
  winterization: 'winterization',
  'backflow-test': 'backflow-tester',
  repair: 'repair',
};
