import { z } from 'zod';

const positive = z.number().positive();

/** A charge constant taken over from the shop's own runs: it counts while the process has this very number. */
export const ownChargeSchema = z.object({
  chargePerVolumeCPerM3: positive,
  /** A single run's scatter, share. */
  relativeSd: z.number().min(0).max(1),
  count: z.number().int().min(1),
});

/** How the shop's own bath warms; for the heat balance of the bath it was learnt in. */
export const ownHeatingSchema = z.object({
  heatCapacityJPerK: positive,
  lowJPerK: positive,
  highJPerK: positive,
  /** What room, walls, vapour and cooler took while the runs went on, W; below zero where they warmed it. */
  lossW: z.number(),
  count: z.number().int().min(1),
});
export type OwnHeating = z.infer<typeof ownHeatingSchema>;

/** The voltage the shop's own runs lead to expect; for the contact watch. */
export const ownVoltageSchema = z.object({
  voltageV: positive,
  voltageSdV: z.number().nonnegative(),
  densityAPerM2: positive,
  slopeVM2PerA: z.number(),
  slopeSdVM2PerA: z.number().nonnegative(),
  count: z.number().int().min(1),
});
