import { z } from 'zod';
import { contactHangerSchema } from '../job/job-hanging.ts';

/** A kind of hanger the shop keeps: everything a contact needs to know of it. */
export const hangerRecordSchema = z.object({
  id: z.string().min(1),
  name: z.string().min(1),
  hanger: contactHangerSchema,
});
export type HangerRecord = z.infer<typeof hangerRecordSchema>;
