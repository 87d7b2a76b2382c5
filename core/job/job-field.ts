import { z } from 'zod';
import { runsAreSound } from '../faces/triangle-runs.ts';

/** How fine the current distribution is worked out: about so many cells in the bath. */
export const FIELD_GRIDS = { quick: 40 ** 3, usual: 64 ** 3, fine: 96 ** 3, finest: 128 ** 3 } as const;
export type FieldGridName = keyof typeof FIELD_GRIDS;

const grids = Object.keys(FIELD_GRIDS) as [FieldGridName, ...FieldGridName[]];

/** A voltage the user read at a density, both steady. */
export const filmReadingSchema = z.object({
  currentDensityAPerM2: z.number().positive().max(5000),
  voltageV: z.number().positive().max(200),
});
export type FilmReading = z.infer<typeof filmReadingSchema>;

/** What the user asks of the thickness, and how it is to be worked out. The map itself is never saved. */
export const fieldSchema = z.object({
  grid: z.enum(grids).default('usual'),
  /** Thinnest coating that still does; null while nobody has said. */
  leastM: z.number().positive().max(1e-3).nullable().default(null),
  /** Measured conductivity of the bath; null takes the published one for its strength and temperature. */
  conductivitySPerM: z.number().positive().max(200).nullable().default(null),
  /** Own voltages at two or more densities take the place of the book's. */
  filmReadings: z.array(filmReadingSchema).max(100).default([]),
});
export type FieldChoice = z.infer<typeof fieldSchema>;

/** Of one part: the faces the least thickness is asked of; none means everything coated. */
export const leastFacesSchema = z
  .array(z.number().int().nonnegative())
  .refine((runs) => runsAreSound(runs, Infinity), 'triangle numbers out of order')
  .default([]);
