import { z } from 'zod';

const positive = z.number().positive();
const direction = z
  .tuple([z.number(), z.number(), z.number()])
  .refine((up) => Math.hypot(...up) > 0, 'a direction needs a length');

/** How a part is turned in the bath. */
export const attitudeSchema = z.object({
  /** Direction of the model that points up in the bath; any length. */
  up: direction.default([0, 0, 1]),
  /** About that vertical, see racking/pose.ts. */
  turnRad: z.number().default(0),
});
export type Attitude = z.infer<typeof attitudeSchema>;

export const HANGER_MATERIALS = ['Al 1100', 'Al 4043', 'Al 5356', 'Al 6061', 'Ti grade 2'] as const;
export type HangerMaterial = (typeof HANGER_MATERIALS)[number];

/** Half on either side of the liquid, and a hook bent around a finger: usual in a small tank. */
const USUAL = { dryLengthM: 0.15, wetLengthM: 0.15, armM: 0.015 } as const;

/** The wires that hold a part at one contact. */
export const contactHangerSchema = z.object({
  material: z.enum(HANGER_MATERIALS),
  diameterM: positive.max(0.1),
  count: z.number().int().min(1).max(100),
  /** In a tank the two lengths follow from bar, level and the part's depth, see hung-wires.ts, unless they are typed. */
  lengthsFrom: z.enum(['tank', 'typed']).default('tank'),
  /** From the bar down to the liquid. */
  dryLengthM: z.number().nonnegative().max(10).default(USUAL.dryLengthM),
  /** From the liquid down to the contact. */
  wetLengthM: z.number().nonnegative().max(10).default(USUAL.wetLengthM),
  /** Wire bent past the upright in the liquid, to the contact and beyond it: hook, eye or sprung end, straightened out. */
  hookLengthM: z.number().nonnegative().max(1).default(0),
  /** How far the weight hangs beside the wire. */
  armM: z.number().nonnegative().max(1).default(USUAL.armM),
  /** It has been through a bath before: aluminium then carries oxide. */
  usedBefore: z.boolean().default(false),
});
export type ContactHanger = z.infer<typeof contactHangerSchema>;

export const FIRST_HANGER: ContactHanger = {
  ...USUAL,
  lengthsFrom: 'tank',
  hookLengthM: 0,
  material: 'Ti grade 2',
  diameterM: 0.002,
  count: 1,
  usedBefore: false,
};

/** A bar or spine of the rack whose end dips into the bath in every load. */
export const busEndSchema = z.object({
  material: z.enum(HANGER_MATERIALS),
  /** Across a round one; the wide side of a flat one. */
  widthM: positive.max(0.5),
  /** The other side of a flat one; null for a round one. */
  thicknessM: positive.max(0.5).nullable(),
  lengthBelowM: positive.max(10),
  count: z.number().int().min(1).max(100),
});
export type BusEnd = z.infer<typeof busEndSchema>;

export const FIRST_BUS_END: BusEnd = {
  material: 'Al 6061',
  widthM: 0.02,
  thicknessM: 0.003,
  lengthBelowM: 0.05,
  count: 1,
};

/** What the user allows of all hangers, how far parts swing, and what else of the rack is in the bath. */
export const hangingRulesSchema = z.object({
  /** Dry wire above the room; the immersed one may rise a quarter of it. */
  allowedRiseK: positive.max(200).default(40),
  allowedDropV: positive.max(10).default(0.5),
  /** Force of one clamp. */
  clampForceN: positive.max(5000).default(20),
  swingRad: z
    .number()
    .min(0)
    .max(Math.PI / 4)
    .default((5 * Math.PI) / 180),
  busEnds: z.array(busEndSchema).max(10).default([]),
});
export type HangingRules = z.infer<typeof hangingRulesSchema>;
