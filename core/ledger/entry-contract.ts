import { z } from 'zod';
import { lineSchema, nameSchema, notesSchema, plainDateSchema, ulidSchema, toldSchema } from '../contract/parts.ts';
import { startTimesSchema, wateringDaysSchema } from '../contract/parts.ts';

// What a ledger entry of each kind holds. One discriminated union, so that a new kind is added in one place.

const testResult = z.enum(['pass', 'fail', 'not-tested']);
const minutes = z.number().min(0).max(720);

/** How soon a finding must be seen to. At once = somebody could be hurt, or water is being lost. */
export const URGENCIES = ['at-once', 'soon', 'when-convenient'] as const;
export type Urgency = (typeof URGENCIES)[number];
export const DECIDED_BY = ['client', 'office', 'technician'] as const;
export const NOT_DONE_REASONS = ['no-access', 'client-away', 'declined', 'weather', 'other'] as const;
export type NotDoneReason = (typeof NOT_DONE_REASONS)[number];
/** The finding an entry closes, by the id of any version of it; stored as that of its first. */
const closesFindingId = ulidSchema.nullable().default(null);

export const batterySwapSchema = z.object({
  kind: z.literal('battery-swap'),
  sensorId: ulidSchema,
  batteryType: lineSchema(40).default(''),
  cells: z.int().min(1).max(8).default(1),
  /** Did the old battery still work? Needed to count lives honestly later. */
  oldBatteryState: z.enum(['working', 'low', 'dead', 'unknown']).default('unknown'),
});
export const sensorCheckSchema = z.object({
  kind: z.literal('sensor-check'),
  sensorId: ulidSchema,
  rainTrip: testResult,
  freezeTrip: testResult.default('not-tested'),
  signal: z.enum(['strong', 'weak', 'none', 'not-tested']).default('not-tested'),
  cellsGood: z.int().min(0).max(8).nullable().default(null),
  controllerObeys: z.boolean().nullable().default(null),
  rainSetPointInches: z.number().min(0).max(3).nullable().default(null),
  freezeSetPointF: z.number().min(20).max(60).nullable().default(null),
});
/** What the caller says; the book fills in the old values and makes the new revision. */
export const runTimeChangeInputSchema = z.object({
  kind: z.literal('run-time-change'),
  programId: ulidSchema,
  /** Id for the revision this change makes. */
  revisionId: ulidSchema,
  runs: z
    .array(
      z.object({
        zoneId: ulidSchema,
        runMinutes: minutes,
        cycleMinutes: z.number().min(1).max(720).nullable().optional(),
        soakMinutes: minutes.nullable().optional(),
      }),
    )
    .max(99)
    .default([]),
  seasonalPercent: z.int().min(0).max(300).optional(),
  days: wateringDaysSchema.optional(),
  startTimes: startTimesSchema.optional(),
  reason: lineSchema(300).default(''),
});
export const runTimeChangeSchema = z.object({
  kind: z.literal('run-time-change'),
  programId: ulidSchema,
  revisionId: ulidSchema,
  changes: z.array(z.object({ zoneId: ulidSchema, oldMinutes: minutes, newMinutes: minutes })).max(99),
  oldSeasonalPercent: z.int(),
  newSeasonalPercent: z.int(),
  daysChanged: z.boolean().default(false),
  startTimesChanged: z.boolean().default(false),
  /** Longest cycle or soak of a zone that runs before and after. */
  cyclesChanged: z.boolean().default(false),
  /** The whole program was switched; null = it is on or off as before. */
  switched: z.enum(['on', 'off']).nullable().default(null),
  /** There was no such program before. */
  madeProgram: z.boolean().default(false),
  reason: z.string().default(''),
});
export const startUpSchema = z.object({
  kind: z.literal('start-up'),
  staticPressurePsi: z.number().min(0).max(300).nullable().default(null),
  zonesRun: z.int().min(0).max(99).nullable().default(null),
  backflowOpened: z.boolean().default(false),
  sensorsTested: z.boolean().default(false),
});
export const winterizationSchema = z.object({
  kind: z.literal('winterization'),
  method: z.enum(['compressed-air', 'gravity-drain', 'automatic-drain', 'vacuum']).default('compressed-air'),
  airPressurePsi: z.number().min(1, 'must be 1 to 120 psi').max(120, 'must be 1 to 120 psi').nullable().default(null),
  zonesBlown: z.int().min(0).max(99).nullable().default(null),
  backflowDrained: z.boolean().default(false),
  controllerOff: z.boolean().default(false),
});
export const repairSchema = z.object({
  kind: z.literal('repair'),
  zoneId: ulidSchema.nullable().default(null),
  what: nameSchema(300),
  minutesSpent: z.int().min(0).max(1440).nullable().default(null),
  closesFindingId,
});
/** What was decided instead of a repair, or about anything else. */
export const decisionSchema = z.object({
  kind: z.literal('decision'),
  what: nameSchema(300),
  decidedBy: z.enum(DECIDED_BY).default('client'),
  closesFindingId,
});
/** Something that was seen and is not as it should be: open until a repair or a decision names it. */
export const findingSchema = z
  .object({
    kind: z.literal('finding'),
    zoneId: ulidSchema.nullable().default(null),
    /** Where it is, when it is not a zone's or to find it there. */
    place: lineSchema(200).default(''),
    what: nameSchema(300),
    urgency: z.enum(URGENCIES).default('soon'),
  })
  .refine((finding) => finding.zoneId !== null || finding.place.trim() !== '', {
    path: ['place'],
    message: 'must say where, or name a zone',
  });
/** Water that ran by hand, outside the programs. */
export const manualRunSchema = z.object({
  kind: z.literal('manual-run'),
  zoneId: ulidSchema,
  runMinutes: z.number().min(0.5, 'must be 0.5 to 720 min').max(720, 'must be 0.5 to 720 min'),
  why: lineSchema(300).default(''),
});
/** Somebody came and could not work; the visit stays to be booked again. */
export const notDoneSchema = z.object({
  kind: z.literal('not-done'),
  why: z.enum(NOT_DONE_REASONS),
});
export const partUsedSchema = z.object({
  kind: z.literal('part-used'),
  part: nameSchema(160),
  quantity: z.number().min(0.01).max(10_000),
  unitPriceCents: z.int().min(0).max(10_000_000).nullable().default(null),
});
export const meterReadSchema = z.object({
  kind: z.literal('meter-read'),
  meter: lineSchema(80).default('main'),
  readingGallons: z.number().min(0).max(1e10),
});
export const backflowTestSchema = z.object({
  kind: z.literal('backflow-test'),
  passed: z.boolean(),
  tester: lineSchema(120).default(''),
  licenceNumber: lineSchema(60).default(''),
  nextDue: plainDateSchema.nullable().default(null),
});
export const walkThroughSchema = z.object({
  kind: z.literal('walk-through'),
  clientPresent: z.boolean().default(false),
  topics: notesSchema.default(''),
});
export const zoneAuditSchema = z.object({
  kind: z.literal('zone-audit'),
  zoneId: ulidSchema,
  volumesMl: z.array(z.number().min(0).max(5000)).min(4).max(400),
  throatAreaIn2: z.number().min(0.5).max(500),
  runMinutes: z.number().min(0.5).max(240),
  /** Worked out from the cans by the book; what a caller sends here is not used. */
  precipitationRateInPerHour: z.number().default(0),
  distributionUniformity: z.number().default(0),
  /** What the zone said before, in books of earlier versions; the office's own value is kept with the zone now. */
  before: z
    .object({
      prMethod: z.string(),
      precipitationRateInPerHour: z.number().nullable(),
      distributionUniformity: z.number().nullable(),
    })
    .nullable()
    .default(null),
});
export const photoSchema = z.object({
  kind: z.literal('photo'),
  fileName: nameSchema(260),
  caption: lineSchema(200).default(''),
});
export const noteSchema = z.object({
  kind: z.literal('note'),
  text: notesSchema.refine((text) => text.trim() !== '', 'must not be empty'),
});

/** As stored. */
export const ledgerDetailSchema = z.discriminatedUnion('kind', [
  batterySwapSchema,
  sensorCheckSchema,
  runTimeChangeSchema,
  startUpSchema,
  winterizationSchema,
  repairSchema,
  partUsedSchema,
  meterReadSchema,
  backflowTestSchema,
  walkThroughSchema,
  zoneAuditSchema,
  manualRunSchema,
  findingSchema,
  decisionSchema,
  notDoneSchema,
  photoSchema,
  noteSchema,
]);
export type LedgerDetail = z.infer<typeof ledgerDetailSchema>;

/** As recorded by a caller. */
export const ledgerDetailInputSchema = z.discriminatedUnion('kind', [
  batterySwapSchema,
  sensorCheckSchema,
  runTimeChangeInputSchema,
  startUpSchema,
  winterizationSchema,
  repairSchema,
  partUsedSchema,
  meterReadSchema,
  backflowTestSchema,
  walkThroughSchema,
  zoneAuditSchema,
  manualRunSchema,
  findingSchema,
  decisionSchema,
  notDoneSchema,
  photoSchema,
  noteSchema,
]);
export type LedgerDetailInput = z.infer<typeof ledgerDetailInputSchema>;

export const LEDGER_KINDS = [
  'battery-swap',
  'sensor-check',
  'run-time-change',
  'start-up',
  'winterization',
  'repair',
  'part-used',
  'meter-read',
  'backflow-test',
  'walk-through',
  'zone-audit',
  'manual-run',
  'finding',
  'decision',
  'not-done',
  'photo',
  'note',
] as const;
export type LedgerKind = (typeof LEDGER_KINDS)[number];

/** The other end of the link between a finding and what closed it. */
export const findingLinkSchema = z.object({
  entryId: ulidSchema,
  kind: z.enum(LEDGER_KINDS),
  doneOn: plainDateSchema,
  summary: toldSchema,
});
export type FindingLink = z.infer<typeof findingLinkSchema>;

/** One fact of work done, as lists show it: already the corrected truth unless `supersededById` is set. */
export const ledgerEntrySchema = z.object({
  id: ulidSchema,
  propertyId: ulidSchema,
  visitId: ulidSchema.nullable(),
  technicianId: ulidSchema.nullable(),
  technicianName: z.string().nullable(),
  clientName: z.string(),
  street: z.string(),
  kind: z.enum(LEDGER_KINDS),
  doneOn: plainDateSchema,
  recordedAt: z.string(),
  note: z.string(),
  detail: ledgerDetailSchema,
  /** The entry this one corrects, if any. */
  correctsId: ulidSchema.nullable(),
  /** 'void' = what it corrects did not happen. */
  correction: z.enum(['replace', 'void']).nullable(),
  correctionReason: z.string(),
  supersededById: ulidSchema.nullable(),
  /** How many earlier versions stand behind this one. */
  historyLength: z.int(),
  /** What was done, as a fact that says itself in the reader's language and units. */
  summary: toldSchema,
  /** Of a finding: what closed it; null = it is open, or this is not a finding that stands. */
  closedBy: findingLinkSchema.nullable(),
  /** Of a repair or decision: the finding it names, as it stands now. */
  closes: findingLinkSchema.nullable(),
});
export type LedgerEntry = z.infer<typeof ledgerEntrySchema>;

export const recordEntrySchema = z.object({
  id: ulidSchema,
  detail: ledgerDetailInputSchema,
  note: notesSchema.default(''),
});
