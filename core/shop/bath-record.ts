import { z } from 'zod';
import { bathEntrySchema } from '../bath/bath-history.ts';

/** A bath of the shop with everything that happened to it; where it stands follows from its entries (bath/bath-state.ts). */
export const bathRecordSchema = z.object({
  id: z.string().min(1),
  name: z.string().min(1),
  entries: z.array(bathEntrySchema),
  note: z.string().default(''),
});
export type BathRecord = z.infer<typeof bathRecordSchema>;
