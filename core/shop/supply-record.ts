import { z } from 'zod';
import { SCPI_PROTOCOL } from '../run/supply-protocol.ts';

const answer = z.object({
  pattern: z.string().min(1).max(120),
  factor: z
    .number()
    .refine((factor) => factor !== 0, 'a factor of nought gives nothing')
    .default(1),
});

/** How the supply is read over a serial line; what may be sent is checked by core/run/supply-protocol.ts. */
export const supplyLinkSchema = z.object({
  baudRate: z.number().int().min(300).max(1_000_000).default(9600),
  dataBits: z.union([z.literal(7), z.literal(8)]).default(8),
  stopBits: z.union([z.literal(1), z.literal(2)]).default(1),
  parity: z.enum(['none', 'even', 'odd']).default('none'),
  protocol: z
    .object({
      name: z.string().max(60),
      identifyQuery: z.string().max(60).nullable(),
      voltageQuery: z.string().max(60),
      voltageAnswer: answer,
      currentQuery: z.string().max(60).nullable(),
      currentAnswer: answer,
      errorQuery: z.string().max(60).nullable(),
      lineEnd: z.enum(['\n', '\r', '\r\n']),
      intervalS: z.number().min(0.2).max(60),
      timeoutS: z.number().min(0.1).max(30),
    })
    .default(SCPI_PROTOCOL),
});
export type SupplyLinkSettings = z.infer<typeof supplyLinkSchema>;

/** A power supply of the shop: what it can hold. */
export const supplyRecordSchema = z.object({
  id: z.string().min(1),
  name: z.string().min(1),
  currentLimitA: z.number().positive().max(100_000),
  voltageLimitV: z.number().positive().max(1000),
  /** Missing where it is not read by the program. */
  link: supplyLinkSchema.optional(),
});
export type SupplyRecord = z.infer<typeof supplyRecordSchema>;
