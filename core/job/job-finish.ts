import { z } from 'zod';
import { labSchema } from '../finish/colour-book.ts';
import { COATING_TYPES } from '../reference/growth-ratio.ts';
import { SHADES } from '../reference/dye-practice.ts';

const positive = z.number().positive();

export const SEAL_CHOICES = [
  'none',
  'hot water',
  'steam',
  'warm nickel',
  'mid temperature',
  'cold nickel',
] as const;
export type SealChoice = (typeof SEAL_CHOICES)[number];

const etchSchema = z.object({
  use: z.boolean().default(false),
  lyeKgPerM3: z.number().min(10).max(150).default(40),
  temperatureK: z.number().min(283.15).max(358.15).default(333.15),
  timeS: z.number().min(0).max(3600).default(60),
});

const dyeChoiceSchema = z.object({
  use: z.boolean().default(false),
  /** Of the shop's book; name and recipe stand here all the same. */
  shopDyeId: z.string().nullable().default(null),
  name: z.string().max(120).default(''),
  shade: z.enum(SHADES).default('bright'),
  strongBlack: z.boolean().default(false),
  recipe: z
    .discriminatedUnion('as', [
      z.object({ as: z.literal('concentration'), dyeKgPerM3: positive.max(200) }),
      z.object({ as: z.literal('bottle'), makesM3: positive.max(10) }),
    ])
    .default({ as: 'concentration', dyeKgPerM3: 5 }),
  potM3: positive.max(10).nullable().default(null),
  temperatureK: z.number().min(283.15).max(368.15).default(333.15),
  ph: z.number().min(0).max(14).nullable().default(null),
  /** The colour wanted. */
  colour: labSchema.nullable().default(null),
  /** Time in the dye the user settled on. */
  timeS: z.number().min(0).max(36_000).nullable().default(null),
});
export type DyeChoice = z.infer<typeof dyeChoiceSchema>;

const stripSchema = z.object({
  volumeM3: positive.max(10).default(0.004),
  lyeKgPerM3: z.number().min(10).max(150).default(24),
  temperatureK: z.number().min(283.15).max(358.15).default(293.15),
  overTimeS: z.number().min(0).max(3600).default(60),
  /** What stays bare is plugged or masked in every strip. */
  bareCovered: z.boolean().default(false),
});

/** What strips have done to a part, each part its own: one that was stripped may hang beside a new one. */
export const partStripsSchema = z.object({
  /** How often it has been coated and stripped already. */
  soFar: z.number().int().min(0).max(20).default(0),
  /** This run begins with stripping the film that is on it now, one more than so far. */
  first: z.boolean().default(false),
  wallM: positive.max(1).nullable().default(null),
  leastWallM: positive.max(1).nullable().default(null),
});
export type PartStrips = z.infer<typeof partStripsSchema>;

/** Everything wet but the anodizing bath itself: type of film, preparation, dye, seal, strip. */
export const finishSchema = z.object({
  coating: z.enum(COATING_TYPES).default('ordinary'),
  /** Build-up over thickness by the shop's own measurement; null takes the published one. */
  growthRatio: z.number().min(0).max(1).nullable().default(null),
  etch: etchSchema.prefault({}),
  desmut: z.boolean().default(true),
  waterBreakHeld: z.boolean().nullable().default(null),
  dye: dyeChoiceSchema.prefault({}),
  seal: z
    .object({
      way: z.enum(SEAL_CHOICES).default('hot water'),
      temperatureK: z.number().min(283.15).max(393.15).default(371.15),
      ph: z.number().min(0).max(14).nullable().default(null),
    })
    .prefault({}),
  specification: z.string().nullable().default(null),
  strip: stripSchema.prefault({}),
  /** Alloys of which the user knows that they differ in one load that is dyed. */
  alloysKnownToDiffer: z.array(z.string().max(40)).max(100).optional(),
});
export type Finish = z.infer<typeof finishSchema>;
