import { z } from 'zod';
import { labSchema } from '../finish/colour-book.ts';
import { READING_ORIGINS } from '../run/readings.ts';
import { STEP_KINDS, type StepClock } from '../run/step-clock.ts';
import { runFinishSchema } from './run-finish.ts';
import { WATCH_LEVELS, type WatchKind } from '../run/watch-event.ts';

/**
 * A run as the shop keeps it, from its first step to what was measured weeks later. Readings (packed), the job it was
 * made from and photos lie beside it, so that this stays small and can be written every second. SI; `…Ms` are
 * milliseconds since 1970, UTC.
 */
export const RUN_OUTCOMES = ['running', 'unjudged', 'good', 'flawed', 'failed'] as const;
export type RunOutcome = (typeof RUN_OUTCOMES)[number];

const positive = z.number().positive();
const ms = z.number().finite();
const share = z.number().min(0).max(1);

/** What one load was to be, as it stood when the run began. */
export const loadPlanSchema = z.object({
  /** From 1. */
  load: z.number().int().min(1).default(1),
  loads: z.number().int().min(1).default(1),
  pieces: z.string().default(''),
  /** The same by the job's parts; empty in a run that was begun before this was kept. */
  counts: z.array(z.object({ partId: z.string(), count: z.number().int().min(1) })).default([]),
  mode: z.enum(['current', 'voltage']).default('current'),
  areaM2: positive,
  currentDensityAPerM2: positive,
  chargePerVolumeCPerM3: positive,
  chargeRelativeUncertainty: share,
  chargeSource: z.object({
    standing: z.enum([
      'definition',
      'published',
      'common practice',
      'from memory',
      'your entry',
      'your own runs',
      'measured on the model',
    ]),
    text: z.string(),
  }),
  thicknessM: positive,
  rampS: z.number().nonnegative(),
  holdS: z.number().nonnegative(),
  supplyCurrentLimitA: positive.nullable(),
  supplyVoltageLimitV: positive.nullable(),
  bathTemperatureK: positive,
  acidKgPerM3: positive,
  /** What the bath was to be kept below, K; null in a run that was begun before this was kept. */
  bathLimitK: positive.nullable().default(null),
  /** How fast the bath warms, for practising; null where its volume was not known. */
  bathWarming: z
    .object({ capacityJPerK: positive, lossWPerK: z.number().nonnegative() })
    .nullable()
    .default(null),
  expectedVoltageV: positive.nullable(),
  /** Only where the user took it over from the shop's own runs. */
  learntVoltage: z
    .object({
      voltageV: positive,
      voltageSdV: z.number().nonnegative(),
      slopeVM2PerA: z.number(),
      slopeSdVM2PerA: z.number().nonnegative(),
    })
    .nullable()
    .default(null),
  /** What the planned area rests on that is not confirmed. */
  unconfirmed: z.string().nullable().default(null),
});
export type LoadPlan = z.infer<typeof loadPlanSchema>;

export const stepClockSchema: z.ZodType<StepClock> = z.object({
  steps: z
    .array(
      z.object({
        kind: z.enum(STEP_KINDS),
        label: z.string(),
        plannedS: z.number().nonnegative().nullable(),
        detail: z.string().optional(),
        cautions: z.array(z.string()).optional(),
      }),
    )
    .min(1),
  marks: z.array(
    z.union([
      z.object({ kind: z.enum(['begin', 'next', 'pause', 'resume', 'end']), atMs: ms }),
      z.object({ kind: z.literal('back'), atMs: ms }),
      z.object({ kind: z.literal('note'), atMs: ms, text: z.string() }),
    ]),
  ),
  offsetMs: ms,
  lastLook: z.object({ wallMs: ms, forwardMs: ms, start: z.string() }).nullable(),
  findings: z.array(
    z.object({
      kind: z.enum(['jumped-ahead', 'set-back']),
      byMs: ms,
      message: z.string(),
      remedy: z.string(),
    }),
  ),
});

const saidEventSchema = z.object({
  atS: z.number(),
  sinceS: z.number(),
  kind: z.enum(Object.keys(WATCH_LEVELS) as [WatchKind, ...WatchKind[]]),
  level: z.enum(['alarm', 'check', 'note']),
  areaLeft: z.tuple([share, share]),
  likelyAreaLeft: share,
  alone: z.literal(true).optional(),
  message: z.string(),
  remedy: z.string(),
  /** Film and bath at that moment, so that the words can be said again in other units; absent in older runs. */
  filmM: z.number().nonnegative().optional(),
  bathTemperatureK: z.number().nullable().optional(),
});
/** Something the contact watch said, with its advice at that stage of the run. */
export type SaidEvent = z.infer<typeof saidEventSchema>;

export const PRACTISE_FAULTS = [
  'none',
  'contact',
  'drift',
  'loose',
  'resistance',
  'total',
  'short',
  'burning',
  'off',
  'wrong-mode',
  'limit',
  'surprise',
] as const;
export type PractiseFault = (typeof PRACTISE_FAULTS)[number];

/** What was done at the supply that isn't there; see run/simulated-run.ts. */
const practiseActSchema = z.discriminatedUnion('kind', [
  z.object({ kind: z.literal('set-current'), atS: z.number(), currentA: z.number().nonnegative() }),
  z.object({ kind: z.literal('set-voltage'), atS: z.number(), voltageV: z.number().nonnegative() }),
  z.object({ kind: z.literal('power'), atS: z.number(), on: z.boolean() }),
  z.object({ kind: z.literal('clamp'), atS: z.number() }),
]);

/** A run with the supply that isn't there. */
export const practiseSchema = z.object({
  seed: z.number().int().min(0).max(0xffffffff),
  fault: z.enum(PRACTISE_FAULTS),
  faultAtS: z.number().nonnegative(),
  lostShare: share,
  speed: z.number().min(1).max(3600),
  acts: z.array(practiseActSchema).default([]),
});
export type Practise = z.infer<typeof practiseSchema>;

const factsSchema = z.object({
  readings: z.number(),
  chargeC: z.number(),
  highChargeC: z.number(),
  energyJ: z.number(),
  gapS: z.number(),
  durationS: z.number(),
  steadyVoltageV: z.number().nullable(),
  steadyCurrentA: z.number().nullable(),
  steadyTemperatureK: z.number().nullable(),
  firstTemperatureK: z.number().nullable(),
  lastTemperatureK: z.number().nullable(),
  troubled: z.boolean(),
});

export const runRecordSchema = z.object({
  id: z.string().min(1),
  name: z.string(),
  createdAtMs: ms,
  endedAtMs: ms.nullable(),
  outcome: z.enum(RUN_OUTCOMES),
  origin: z.enum(READING_ORIGINS).nullable(),
  practise: practiseSchema.nullable().default(null),
  supplyId: z.string().nullable().default(null),
  plan: loadPlanSchema,
  clock: stepClockSchema,
  events: z.array(saidEventSchema).default([]),
  /** Events up to here were silenced by somebody. */
  silenced: z.number().int().nonnegative().default(0),
  /** Events up to here were dealt with at the tank. */
  dealtWith: z.number().int().nonnegative().default(0),
  /** Other calls that were silenced, by their names; see renderer/state/run-calls.ts. */
  silencedCalls: z.array(z.string()).default([]),
  /** Somebody has looked, past the hold: the supply is off. When, and after how many marks of the clock. */
  saidOff: z.object({ atMs: ms, marks: z.number().int().nonnegative() }).nullable().default(null),
  /** Somebody holds the ramp: it does not end by itself. */
  waitsAtRamp: z.boolean().default(false),
  /** What happened to the readings: gaps, reconnects, imports. */
  log: z.array(z.object({ atMs: ms, kind: z.string(), text: z.string() })).default([]),
  facts: factsSchema.nullable().default(null),
  film: z.object({ valueM: z.number(), lowM: z.number(), highM: z.number() }).nullable().default(null),
  /** The hold went on past its end; see run/hold-overrun.ts. */
  overrun: z.object({ overS: z.number(), filmM: z.number(), unreadS: z.number() }).nullable().default(null),
  note: z.string().default(''),
  measured: z
    .object({
      /** Eddy-current readings. */
      filmM: z.array(positive.max(1e-3)).default([]),
      massLoss: z.object({ coatedKg: positive, strippedKg: positive }).nullable().default(null),
    })
    .prefault({}),
  dye: z.string().default(''),
  colour: z.string().default(''),
  lab: labSchema.nullable().default(null),
  /** As the camera saw it, lamp and exposure included (older books), or balanced by white paper in the photo. */
  labFrom: z.enum(['camera', 'white paper']).default('camera'),
  /** Alloy, dye, seal and bath as planned when it began; null in older runs. */
  finish: runFinishSchema.nullable().default(null),
  /** What the job knew of itself when the run began, all its parts together; null in older runs. */
  jobFacts: z
    .record(z.string(), z.union([z.number(), z.boolean(), z.string(), z.null()]))
    .nullable()
    .default(null),
});
export type RunRecord = z.infer<typeof runRecordSchema>;

export function isSimulated(record: Pick<RunRecord, 'origin' | 'practise'>): boolean {
  return record.practise !== null || record.origin === 'simulated';
}
