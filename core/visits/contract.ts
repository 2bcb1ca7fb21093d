import { z } from 'zod';
import {
  clockTimeSchema,
  notesSchema,
  plainDateSchema,
  ulidSchema,
  VISIT_KINDS,
  nullable,
  toldSchema,
  lineSchema,
  reckonedDateSchema,
} from '../contract/parts.ts';
import { defineRequest } from '../contract/define-request.ts';
import { DUE_KINDS } from '../due/contract.ts';
import { technicianSchema, truckSchema, type SKILLS } from '../people/contract.ts';
import { ledgerEntrySchema, LEDGER_KINDS } from '../ledger/entry-contract.ts';

/** As many visits as one technician's day, or the day of visits without a technician, can hold. */
export const MAX_VISITS_A_DAY = 10_000;

export const VISIT_STATES = ['planned', 'done', 'cancelled'] as const;

export type VisitState = (typeof VISIT_STATES)[number];

export const visitSchema = z.object({
  id: ulidSchema,
  propertyId: ulidSchema,
  kind: z.enum(VISIT_KINDS),
  state: z.enum(VISIT_STATES),
  date: plainDateSchema,
  windowFrom: nullable(clockTimeSchema),
  windowTo: nullable(clockTimeSchema),
  technicianId: nullable(ulidSchema),
  /** Order within the technician's day, from 1. Work that nobody had booked, and visits without a technician, may be many on one day. */
  orderInDay: z.int().min(1).max(MAX_VISITS_A_DAY),
  expectedMinutes: z.int().min(5).max(600),
  locked: z.boolean().default(false),
  note: notesSchema.default(''),
  doneOn: nullable(plainDateSchema),
  cancelReason: z.string().default(''),
});

export type Visit = z.infer<typeof visitSchema>;

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
