import { z } from 'zod';
import { repairSchema } from './job-repairs.ts';

const triangle = z.number().int().nonnegative();

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
  /** How deep it hangs in the bath, from its lowest point up, model units; null: all of it. */
  immersedDepth: z.number().positive().nullable().default(null),
  /** The model's unit in which the user said that an unusual size is right. */
  sizeRightIn: z.string().max(4).optional(),
});
export type PartSurface = z.infer<typeof partSurfaceSchema>;
