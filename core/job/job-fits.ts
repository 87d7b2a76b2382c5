import { z } from 'zod';
import { runsAreSound } from '../faces/triangle-runs.ts';

const positive = z.number().positive();

/** What has to keep its size: a fit or thread by its name, a size by its limits, or a face that only has to stay bare. */
const fitNeedSchema = z.discriminatedUnion('as', [
  /** "25H7", "M6x1-6H", "1/4-20-2B"; read by core/finish/parse-fit.ts. */
  z.object({ as: z.literal('code'), text: z.string().max(60) }),
  z.object({
    as: z.literal('size'),
    measured: z.enum(['hole', 'shaft', 'outside length', 'inside length', 'step']),
    lowM: positive.max(10),
    highM: positive.max(10),
    coatedFaces: z.union([z.literal(0), z.literal(1), z.literal(2)]),
    coatedUpper: z.boolean(),
  }),
  z.object({ as: z.literal('bare') }),
]);
export type FitNeed = z.infer<typeof fitNeedSchema>;

export const partFitSchema = z.object({
  id: z.string().min(1),
  label: z.string().min(1).max(120),
  need: fitNeedSchema,
  /** The file's triangles of the faces it belongs to (see faces/triangle-runs.ts); empty for one typed by hand. */
  faces: z.array(z.number().int().nonnegative()).refine((runs) => runsAreSound(runs, Infinity)),
  /** How many of it one piece has, where it was typed by hand. */
  count: z.number().int().min(1).max(1000).default(1),
  /**
   * The limits that the user machines it to before coating; `not kept` where an earlier version kept the tick without its size;
   * null where nobody said so.
   */
  machinedTo: z
    .union([
      z
        .object({ lowM: positive.max(10), highM: positive.max(10) })
        .refine(({ lowM, highM }) => highM >= lowM, 'the high limit is below the low one'),
      z.literal('not kept'),
    ])
    .nullable()
    .default(null),
});
export type PartFit = z.infer<typeof partFitSchema>;
