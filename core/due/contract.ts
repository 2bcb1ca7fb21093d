import { z } from 'zod';
import { plainDateSchema, reckonedDateSchema, ulidSchema, toldSchema, pageFields } from '../contract/parts.ts';
import { defineRequest } from '../contract/define-request.ts';

export const SEASON_STATES = ['not-started', 'running', 'winterized', 'not-serviced'] as const;

export type SeasonState = (typeof SEASON_STATES)[number];

export const DUE_KINDS = [
  /** Open, and to be seen to at once. */
  'finding',
  'battery',
  'sensor-check',
  'backflow-test',
  'start-up',
  'winterization',
  'overdue-visit',
] as const;

export type DueKind = (typeof DUE_KINDS)[number];

export const seasonStateSchema = z.enum(SEASON_STATES);

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
  /** The ledger entry that says an open finding. */
  findingId: ulidSchema.nullable(),
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

export const dueList = defineRequest({
  name: 'due.list',
  kind: 'read',
  title:
    'What is due: findings to be seen to at once, batteries, sensor checks, backflow tests, start-ups and winterizations not booked, overdue visits.',
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
