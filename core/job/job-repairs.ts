import { z } from 'zod';
import { runsAreSound } from '../faces/triangle-runs.ts';

/** Model units, like every place on a part. */
const length = z.number().positive().max(1e7);

/**
 * A repair of a part's mesh that the user accepted. They are done in order each time the file is read; the file
 * itself is never changed, and what is said of its triangles stays said.
 */
export const repairSchema = z.discriminatedUnion('kind', [
  /** Joins corners on open edges nearer than this. */
  z.object({ kind: z.literal('weld'), distance: length }),
  /** All shells one way round, outwards. */
  z.object({ kind: z.literal('turn') }),
  /** Leaves out triangles that lie on another one. */
  z.object({ kind: z.literal('drop-doubles') }),
  /** Leaves out triangles that are lines. */
  z.object({ kind: z.literal('drop-lines') }),
  /** Leaves out these triangles of the file. */
  z.object({
    kind: z.literal('drop'),
    triangles: z
      .array(z.number().int().nonnegative())
      .refine((runs) => runsAreSound(runs, Infinity), 'triangle numbers out of order'),
  }),
  /** Closes gaps up to this size with flat pieces. */
  z.object({ kind: z.literal('fill'), size: length }),
  /** Gives what was drawn without thickness this one, half to each side. */
  z.object({ kind: z.literal('thicken'), thickness: length }),
]);
export type Repair = z.infer<typeof repairSchema>;
