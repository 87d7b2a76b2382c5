import { z } from 'zod';
import { runsAreSound } from '../faces/triangle-runs.ts';
import { bathSchema } from './job-bath.ts';
import { fieldSchema, leastFacesSchema } from './job-field.ts';
import { finishSchema, partStripsSchema } from './job-finish.ts';
import { partFitSchema } from './job-fits.ts';
import { attitudeSchema, contactHangerSchema, hangingRulesSchema } from './job-hanging.ts';
import { ownChargeSchema, ownVoltageSchema } from './job-own-runs.ts';
import { partSurfaceSchema } from './job-surface.ts';
import { jobTankSchema, placementSchema } from './job-tank.ts';
import { partSourceSchema, withSource } from './part-source.ts';

/**
 * The job: the one document. It holds what the user said and nothing that can be worked out again. SI throughout;
 * places on a part are in the model's own units, so that confirming another unit moves nothing.
 */
export const JOB_FORMAT = 'tankside-job';
export const JOB_VERSION = 4;

export const MODEL_UNITS = ['mm', 'cm', 'm', 'in', 'ft'] as const;
export type ModelUnit = (typeof MODEL_UNITS)[number];

const positive = z.number().positive();
const point = z.tuple([z.number(), z.number(), z.number()]);

/** Triangle numbers as flat pairs start, end (end not included), ascending and apart. See faces/triangle-runs.ts. */
const triangleRuns = z
  .array(z.number().int().nonnegative())
  .refine((runs) => runsAreSound(runs, Infinity), 'triangle numbers out of order');

/** A piece of a triangle that fusing cut up, treated otherwise than the rest of it: found by a place on it, model units. */
const coveredPiece = z.object({
  triangle: z.number().int().nonnegative(),
  at: point,
  treatment: z.enum(['coat', 'mask', 'contact']),
  show: z.boolean(),
});

const coverageSchema = z.object({
  mask: triangleRuns,
  contact: triangleRuns,
  show: triangleRuns,
  pieces: z.array(coveredPiece).max(100_000).optional(),
});

export const contactSchema = z.object({
  id: z.string().min(1),
  /** On the surface, model units. */
  at: point,
  triangle: z.number().int().nonnegative(),
  /** The round patch of bare metal under the clamp. */
  patchDiameterM: positive.max(1),
  hanger: contactHangerSchema,
});
export type Contact = z.infer<typeof contactSchema>;

const partFields = z.object({
  id: z.string().min(1),
  name: z.string().min(1),
  source: partSourceSchema,
  unit: z.enum(MODEL_UNITS),
  /** False while the unit is the program's guess. */
  unitConfirmed: z.boolean(),
  quantity: z.number().int().min(1).max(10_000),
  /** Neighbouring triangles that turn by less than this belong to one face. */
  splitAngleRad: positive.max(Math.PI),
  coverage: coverageSchema,
  contacts: z.array(contactSchema),
  attitude: attitudeSchema.prefault({}),
  /** Names in reference/alloys.ts; null while nobody has said. */
  alloy: z.string().nullable().default(null),
  /** Filler of its welds; null where nothing is welded. */
  filler: z.string().nullable().default(null),
  fits: z.array(partFitSchema).default([]),
  strips: partStripsSchema.prefault({}),
  surface: partSurfaceSchema.prefault({}),
  leastFaces: leastFacesSchema,
});
export const partSchema = z.preprocess(withSource, partFields);
export type Part = z.infer<typeof partFields>;

export const processSchema = z.object({
  thicknessM: positive.max(1e-3),
  currentDensityAPerM2: positive.max(5000),
  chargePerVolumeCPerM3: positive,
  rampS: z.number().nonnegative().max(36_000),
  supplyCurrentLimitA: positive.nullable(),
  supplyVoltageLimitV: positive.nullable(),
  /** Taken over from the shop's own runs; missing while nobody did. */
  ownCharge: ownChargeSchema.optional(),
  ownVoltage: ownVoltageSchema.optional(),
});
export type Process = z.infer<typeof processSchema>;

export const jobSchema = z.object({
  format: z.literal(JOB_FORMAT),
  version: z.literal(JOB_VERSION),
  name: z.string(),
  note: z.string(),
  parts: z.array(partSchema),
  process: processSchema,
  bath: bathSchema.prefault({}),
  finish: finishSchema.prefault({}),
  hanging: hangingRulesSchema.prefault({}),
  /** null until one is chosen: loads then know of no room. */
  tank: jobTankSchema.nullable().default(null),
  /** Copies of the parts that hang in the tank, as shown. */
  placements: z.array(placementSchema).max(1000).default([]),
  /** Loads that do not hang now, as they were left when another was hung; see load-hanging.ts. */
  otherLoads: z.array(z.array(placementSchema).max(1000)).max(1000).default([]),
  field: fieldSchema.prefault({}),
});
export type Job = z.infer<typeof jobSchema>;
