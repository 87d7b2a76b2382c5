import { z } from 'zod';

/** A power supply of the shop: what it can hold. */
export const supplyRecordSchema = z.object({
  id: z.string().min(1),
  name: z.string().min(1),
  currentLimitA: z.number().positive().max(100_000),
  voltageLimitV: z.number().positive().max(1000),
});
export type SupplyRecord = z.infer<typeof supplyRecordSchema>;
