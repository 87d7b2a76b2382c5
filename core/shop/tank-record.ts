import { z } from 'zod';
import { tankRulesSchema, tankSchema } from '../job/job-tank.ts';

/** A tank of the shop with the clearances kept in it. `name` is the tank's own. */
export const tankRecordSchema = z.object({
  id: z.string().min(1),
  name: z.string().min(1),
  tank: tankSchema,
  rules: tankRulesSchema,
});
export type TankRecord = z.infer<typeof tankRecordSchema>;
