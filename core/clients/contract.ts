import { z } from 'zod';
import {
  lineSchema,
  nameSchema,
  notesSchema,
  ulidSchema,
  plainDateSchema,
  pageFields,
  version,
} from '../contract/parts.ts';
import { seasonStateSchema, DUE_KINDS, seasonSchema, dueItemSchema } from '../due/contract.ts';
import { defineRequest } from '../contract/define-request.ts';
import { controllerSchema, propertySchema, sensorSchema, zoneSchema } from '../properties/contract.ts';
import { programSchema } from '../programs/contract.ts';
import { restrictionSchema } from '../settings/contract.ts';
import { routeSchema } from '../people/contract.ts';
import { visitSchema } from '../visits/contract.ts';
import { ledgerEntrySchema } from '../ledger/entry-contract.ts';

// The things a book holds, as they cross the contract. Stored units: inches, feet, ft², gallons, gpm, psi, °F, minutes.

export const CLIENT_KINDS = ['household', 'association', 'business'] as const;

export type ClientKind = (typeof CLIENT_KINDS)[number];

export const clientSchema = z.object({
  id: ulidSchema,
  name: nameSchema(160),
  kind: z.enum(CLIENT_KINDS).default('household'),
  phone: lineSchema(40).default(''),
  phone2: lineSchema(40).default(''),
  email: lineSchema(160)
    .refine((text) => text === '' || /^[^\s@]+@[^\s@]+\.[^\s@]+$/.test(text), 'must be an e-mail address or empty')
    .default(''),
  billingAddress: notesSchema.default(''),
  notes: notesSchema.default(''),
  /** The number this client has in another list (an import's key). */
  accountNumber: lineSchema(60).default(''),
  archived: z.boolean().default(false),
});

export type Client = z.infer<typeof clientSchema>;

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
