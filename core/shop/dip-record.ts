import { z } from 'zod';
import { dipSchema } from '../finish/colour-book.ts';

/** A dip of the colour book as the shop keeps it; its picture, where there is one, lies in the photos under `photoId`. */
export const dipRecordSchema = dipSchema.extend({
  name: z.string().min(1),
  photoId: z.string().nullable().default(null),
});
export type DipRecord = z.infer<typeof dipRecordSchema>;
