import { z } from 'zod';

export const labSchema = z.object({
  l: z.number().min(0).max(100),
  a: z.number().min(-150).max(150),
  b: z.number().min(-150).max(150),
});

/** One dip of the shop’s colour book. SI; `at` is an ISO 8601 date-time. */
export const dipSchema = z.object({
  id: z.string().min(1),
  at: z.iso.datetime(),
  dyeId: z.string().min(1),
  alloy: z.string(),
  /** In the dye; 0 for a bare film, which anchors the curve. */
  timeS: z.number().nonnegative().max(36_000),
  temperatureK: z.number().min(273).max(373),
  thicknessM: z.number().positive().max(1e-3),
  /** Null where nobody measured it. */
  ph: z.number().min(0).max(14).nullable(),
  /** Dye per volume of the pot; null where nobody said, as in older books and of dye by the bottle. */
  dyeKgPerM3: z.number().positive().nullable().default(null),
  colour: labSchema,
  colourFrom: z.enum(['typed', 'photo']),
  note: z.string(),
});
export type Dip = z.infer<typeof dipSchema>;

/** A dye of the shop. */
export const dyeSchema = z.object({
  id: z.string().min(1),
  name: z.string().min(1),
  recipe: z.discriminatedUnion('as', [
    z.object({ as: z.literal('concentration'), dyeKgPerM3: z.number().positive() }),
    z.object({ as: z.literal('bottle'), makesM3: z.number().positive() }),
  ]),
  potM3: z.number().positive().nullable(),
  note: z.string(),
});
export type Dye = z.infer<typeof dyeSchema>;
