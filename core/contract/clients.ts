import { z } from 'zod';
import { defineRequest } from './define-request.ts';
import { lineSchema, pageFields, plainDateSchema, reckonedDateSchema, ulidSchema, toldSchema } from './parts.ts';
import {
  clientSchema,
  controllerSchema,
  programSchema,
  propertySchema,
  restrictionSchema,
  routeSchema,
  SEASON_STATES,
  sensorSchema,
  visitSchema,
  zoneSchema,
} from './entities.ts';
import { ledgerEntrySchema } from './ledger-entries.ts';

export const DUE_KINDS = [
  'battery',
  'sensor-check',
  'backflow-test',
  'start-up',
  'winterization',
  'overdue-visit',
] as const;
export type DueKind = (typeof DUE_KINDS)[number];
export const seasonStateSchema = z.enum(SEASON_STATES);

/** One row of the home list: a property with its client; a client without a property has a row with propertyId null. */
export const clientRowSchema = z.object({
  clientId: ulidSchema,
  clientName: z.string(),
  phone: z.string(),
  propertyId: ulidSchema.nullable(),
  label: z.string(),
  street: z.string(),
  city: z.string(),
  routeId: ulidSchema.nullable(),
  routeName: z.string().nullable(),
  seasonState: seasonStateSchema.nullable(),
  /** What is due on `onDate`, most urgent first. */
  due: z.array(z.enum(DUE_KINDS)),
  nextVisitDate: plainDateSchema.nullable(),
  archived: z.boolean(),
});
export type ClientRow = z.infer<typeof clientRowSchema>;

export const clientList = defineRequest({
  name: 'client.list',
  kind: 'read',
  title:
    'Clients and their properties: search by any part of name, street or phone; filter by route, season state or what is due.',
  topics: ['client', 'property', 'visit', 'ledger', 'people', 'settings'],
  input: z.object({
    search: lineSchema(200).default(''),
    routeId: ulidSchema.nullable().default(null),
    seasonState: seasonStateSchema.nullable().default(null),
    due: z.enum(DUE_KINDS).nullable().default(null),
    clientId: ulidSchema.nullable().default(null),
    sort: z.enum(['name', 'street', 'route', 'season', 'next-visit']).default('name'),
    descending: z.boolean().default(false),
    archived: z.boolean().default(false),
    /** The day on which "due" is judged; today when left out. */
    onDate: plainDateSchema.optional(),
    ...pageFields,
  }),
  output: z.object({ rows: z.array(clientRowSchema), total: z.int() }),
});

/** `version` is the one read; a save over a newer one is refused, so nobody's change is lost unseen. Leave out to create. */
const version = z.int().min(1).optional();

export const clientSave = defineRequest({
  name: 'client.save',
  kind: 'write',
  title: 'Adds a client or saves changes to one.',
  topics: ['client'],
  input: z.object({ writeId: ulidSchema, client: clientSchema, version }),
  output: z.object({ clientId: ulidSchema, version: z.int() }),
});

export const clientOpen = defineRequest({
  name: 'client.open',
  kind: 'read',
  title: 'One client with the ids and streets of its properties.',
  topics: ['client', 'property'],
  input: z.object({ clientId: ulidSchema }),
  output: z.object({
    client: clientSchema,
    version: z.int(),
    properties: z.array(
      z.object({ id: ulidSchema, street: z.string(), city: z.string(), label: z.string(), archived: z.boolean() }),
    ),
  }),
});

export const dueItemSchema = z.object({
  kind: z.enum(DUE_KINDS),
  propertyId: ulidSchema,
  clientId: ulidSchema,
  clientName: z.string(),
  phone: z.string(),
  street: z.string(),
  city: z.string(),
  routeName: z.string().nullable(),
  dueOn: reckonedDateSchema,
  /** Above zero = late by so many days. */
  daysLate: z.int(),
  sensorId: ulidSchema.nullable(),
  visitId: ulidSchema.nullable(),
  /** A planned visit of the fitting kind, if one is booked already. */
  bookedVisitId: ulidSchema.nullable(),
  bookedDate: plainDateSchema.nullable(),
  /** Why, as a fact. */
  why: toldSchema,
});
export type DueItem = z.infer<typeof dueItemSchema>;

export const seasonSchema = z.object({
  year: z.int(),
  state: seasonStateSchema,
  startedUpOn: plainDateSchema.nullable(),
  winterizedOn: plainDateSchema.nullable(),
});

export const propertyOpen = defineRequest({
  name: 'property.open',
  kind: 'read',
  title: 'One property with everything on its page.',
  topics: ['client', 'property', 'program', 'visit', 'ledger', 'people', 'rules', 'settings'],
  input: z.object({
    propertyId: ulidSchema,
    onDate: plainDateSchema.optional(),
    ledgerLimit: z.int().min(0).max(200).default(20),
  }),
  output: z.object({
    property: propertySchema,
    version: z.int(),
    client: clientSchema,
    controllers: z.array(controllerSchema),
    zones: z.array(zoneSchema),
    programs: z.array(programSchema),
    sensors: z.array(sensorSchema),
    restriction: restrictionSchema.nullable(),
    route: routeSchema.nullable(),
    season: seasonSchema,
    due: z.array(dueItemSchema),
    /** Planned first by date, then the latest done or cancelled. */
    visits: z.array(visitSchema),
    ledger: z.array(ledgerEntrySchema),
    ledgerTotal: z.int(),
    /** Findings that nothing has closed yet, newest first. */
    openFindings: z.array(ledgerEntrySchema),
    siblings: z.array(z.object({ id: ulidSchema, street: z.string(), label: z.string() })),
  }),
});

export const propertySave = defineRequest({
  name: 'property.save',
  kind: 'write',
  title:
    'Adds or saves a property, and with it any of its controllers, zones and sensors. Parts not named stay as they are; a part with history is retired, never deleted.',
  topics: ['property'],
  input: z.object({
    writeId: ulidSchema,
    property: propertySchema,
    version,
    controllers: z.array(controllerSchema).max(20).default([]),
    zones: z.array(zoneSchema).max(200).default([]),
    sensors: z.array(sensorSchema).max(20).default([]),
  }),
  output: z.object({ propertyId: ulidSchema, version: z.int() }),
});

export const dueList = defineRequest({
  name: 'due.list',
  kind: 'read',
  title:
    'What is due: batteries, sensor checks, backflow tests, start-ups and winterizations not booked, overdue visits.',
  slow: true,
  topics: ['client', 'property', 'visit', 'ledger', 'people', 'settings'],
  input: z.object({
    onDate: plainDateSchema.optional(),
    kinds: z.array(z.enum(DUE_KINDS)).max(DUE_KINDS.length).optional(),
    routeId: ulidSchema.nullable().default(null),
    /** Look so many days ahead. */
    horizonDays: z.int().min(0).max(366).default(30),
    /** Also those that have a fitting visit booked. */
    includeBooked: z.boolean().default(false),
    ...pageFields,
  }),
  output: z.object({
    onDate: plainDateSchema,
    items: z.array(dueItemSchema),
    total: z.int(),
    counts: z.record(z.enum(DUE_KINDS), z.int()),
  }),
});
