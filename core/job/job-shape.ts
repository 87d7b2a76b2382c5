import { z } from 'zod';

/** Recipes of parts drawn here. Lengths in metres; a body's own frame stands on z = 0, middle of its foot at 0, 0. */
const length = z.number().positive().max(10);
const place = z.number().min(-10).max(10);

/** What is cut by one hole, across the way it is drilled. */
const cutSchema = z.discriminatedUnion('kind', [
  z.object({ kind: z.literal('round'), diameterM: length }),
  /** Round ends; `lengthM` from end to end. */
  z.object({ kind: z.literal('slot'), lengthM: length, widthM: length, turned: z.boolean().default(false) }),
  z.object({
    kind: z.literal('counterbore'),
    diameterM: length,
    recessDiameterM: length,
    recessDepthM: length,
  }),
]);

export const holeSchema = z.object({
  id: z.string().min(1),
  /** Drilled down from the top, back from the front, or in from the right side. */
  from: z.enum(['top', 'front', 'side']).default('top'),
  /** Of its middle: top x, y; front x, z; side y, z; z from the foot. */
  at: z.tuple([place, place]),
  cut: cutSchema,
  /** null: right through. */
  depthM: length.nullable().default(null),
});
export type ShapeHole = z.infer<typeof holeSchema>;

const body = {
  id: z.string().min(1),
  /** Where its foot's middle stands. */
  at: z.tuple([place, place, place]).default([0, 0, 0]),
  /** Its upright axis after laying it down. */
  axis: z.enum(['z', 'x', 'y']).default('z'),
  holes: z.array(holeSchema).max(200).default([]),
};

export const bodySchema = z.discriminatedUnion('kind', [
  z.object({ ...body, kind: z.literal('plate'), lengthM: length, widthM: length, thicknessM: length }),
  z.object({ ...body, kind: z.literal('disc'), diameterM: length, thicknessM: length }),
  z.object({
    ...body,
    kind: z.literal('ring'),
    outerDiameterM: length,
    innerDiameterM: length,
    thicknessM: length,
  }),
  z.object({ ...body, kind: z.literal('rod'), diameterM: length, lengthM: length }),
  z.object({ ...body, kind: z.literal('tube'), outerDiameterM: length, wallM: length, lengthM: length }),
  /** A solid block, or with a wall a box section open at both ends of its length. */
  z.object({
    ...body,
    kind: z.literal('box'),
    lengthM: length,
    widthM: length,
    heightM: length,
    wallM: length.nullable().default(null),
  }),
  z.object({
    ...body,
    kind: z.literal('angle'),
    lengthM: length,
    widthM: length,
    heightM: length,
    thicknessM: length,
  }),
  z.object({
    ...body,
    kind: z.literal('channel'),
    lengthM: length,
    widthM: length,
    heightM: length,
    thicknessM: length,
  }),
  /** A frustum; 0 above is a point. */
  z.object({
    ...body,
    kind: z.literal('cone'),
    lowDiameterM: length,
    highDiameterM: z.number().nonnegative().max(10),
    heightM: length,
  }),
]);
export type ShapeBody = z.infer<typeof bodySchema>;

export const shapeSchema = z.object({ bodies: z.array(bodySchema).min(1).max(50) });
export type Shape = z.infer<typeof shapeSchema>;
