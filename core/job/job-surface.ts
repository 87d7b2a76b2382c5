import { z } from 'zod';
import { repairSchema } from './job-repairs.ts';

const triangle = z.number().int().nonnegative();

/** Where the surface is measured at: the level of the bath on a part that hangs partly out of it. */
const waterlineSchema = z.object({
  /** Direction of the model that points up. */
  up: z
    .tuple([z.number(), z.number(), z.number()])
    .refine((up) => Math.hypot(...up) > 0, 'a direction needs a length'),
  /** Along `up` from the model's origin, model units (for `up` of length 1). */
  level: z.number(),
});
export type Waterline = z.infer<typeof waterlineSchema>;

/** What the user said about one part's true surface. Triangles are those of the file. */
export const partSurfaceSchema = z.object({
  repairs: z.array(repairSchema).max(100).default([]),
  /** Bodies that touch are fused; those nearer than this (model units) count as touching. null: as they are. */
  fuseGap: z.number().nonnegative().nullable().default(null),
  /** Anchors of closed voids that have a vent in the real part, so that acid gets in. */
  ventedVoids: z.array(triangle).default([]),
  /** `true`: round faces as they are meant; `as meshed`: the facets as they are. */
  facets: z.enum(['true', 'as meshed']).default('true'),
  /** Answers where the mesh cannot tell round from flats. */
  facetAnswers: z.array(z.object({ triangle, is: z.enum(['round', 'flat']) })).default([]),
  /** Cylinders that carry a thread, by their thread's name: "M6x1", "1/4-20". */
  threads: z.array(z.object({ triangle, designation: z.string().min(1).max(40) })).default([]),
  waterline: waterlineSchema.nullable().default(null),
});
export type PartSurface = z.infer<typeof partSurfaceSchema>;
