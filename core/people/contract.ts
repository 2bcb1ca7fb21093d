import { z } from 'zod';
import {
  nameSchema,
  ulidSchema,
  nullable,
  measure,
  clockTimeSchema,
  lineSchema,
  weekdaysSchema,
} from '../contract/parts.ts';
import { defineRequest } from '../contract/define-request.ts';

export const SKILLS = ['start-up', 'winterization', 'repair', 'backflow-tester', 'electrical', 'drip'] as const;

export const truckSchema = z.object({
  id: ulidSchema,
  name: nameSchema(80),
  compressorCfm: nullable(measure(1, 1000, 'cfm')),
  active: z.boolean().default(true),
});

export type Truck = z.infer<typeof truckSchema>;

export const technicianSchema = z.object({
  id: ulidSchema,
  name: nameSchema(120),
  phone: lineSchema(40).default(''),
  skills: z.array(z.enum(SKILLS)).max(SKILLS.length).default([]),
  workWeekdays: weekdaysSchema.default([1, 2, 3, 4, 5]),
  dayStart: clockTimeSchema.default('07:30'),
  dayEnd: clockTimeSchema.default('16:00'),
  truckId: nullable(ulidSchema),
  active: z.boolean().default(true),
});

export type Technician = z.infer<typeof technicianSchema>;

export const routeSchema = z.object({
  id: ulidSchema,
  name: nameSchema(80),
  technicianId: nullable(ulidSchema),
});

export type Route = z.infer<typeof routeSchema>;

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
