import { z } from 'zod';
import { ownHeatingSchema } from './job-own-runs.ts';

const positive = z.number().positive();

/** What the mixing calculator was last asked; amounts as typed, so that they read the same when the job is opened. */
export const mixSchema = z.object({
  /** As on the container: "96 %", "SG 1.28". */
  acidText: z.string().max(60).default('35 %'),
  by: z.enum(['target', 'parts']).default('target'),
  targetText: z.string().max(60).default('180 g/L'),
  partsText: z.string().max(60).default('1:3'),
  volumeM3: positive.max(100).nullable().default(null),
  /** Print the amounts on the run sheet: a bath is made up for this job. */
  onSheet: z.boolean().default(false),
});
export type MixChoice = z.infer<typeof mixSchema>;

/**
 * Stood in every job before a bath had a limit of its own. Of an ordinary bath it is that limit, so nothing changes there; a hard
 * coat's gets the one that fits it, as nobody can have meant this for it.
 */
const FORMER_LIMIT_K = 297.15;

/** The bath as the user knows it; a usual one until it was measured. null where nobody has said. */
export const bathSchema = z.object({
  temperatureK: z.number().min(260).max(330).default(293.15),
  acidKgPerM3: z.number().min(50).max(500).default(180),
  /** Of the shop's book; the figures below stand in the job all the same, so that it opens anywhere. */
  shopBathId: z.string().nullable().default(null),
  volumeM3: positive.max(100).nullable().default(null),
  aluminiumKgPerM3: z.number().min(0).max(50).nullable().default(null),
  stirred: z.boolean().default(true),
  stirringW: z.number().min(0).max(5000).default(5),
  airK: z.number().min(263.15).max(318.15).default(293.15),
  relativeHumidity: z.number().min(0).max(1).default(0.5),
  /** Open liquid and wetted wall; null takes the tank's, or a cube's of the bath's volume. */
  surfaceM2: z.number().min(0).max(100).nullable().default(null),
  wallM2: z.number().min(0).max(1000).nullable().default(null),
  wallWPerM2K: z.number().min(0).max(50).default(5),
  /** The bath must stay below this; null goes by the bath (job/bath-start.ts). */
  limitK: z
    .number()
    .min(263.15)
    .max(323.15)
    .nullable()
    .default(null)
    .transform((limitK) => (limitK === FORMER_LIMIT_K ? null : limitK)),
  iceKg: z.number().min(0).max(1000).default(0),
  iceInBottles: z.boolean().default(true),
  chillerW: z.number().min(0).max(1e5).default(0),
  chillerSetK: z.number().min(263.15).max(318.15).default(293.15),
  /** Between two runs. */
  pauseS: z.number().min(0).max(86_400).default(1800),
  leadCathodes: z.boolean().default(false),
  ownHeating: ownHeatingSchema.nullable().default(null),
  mix: mixSchema.prefault({}),
});
export type Bath = z.infer<typeof bathSchema>;
