import { z } from 'zod';
import { CATHODE_MATERIALS, USUAL_TANK_RULES, type Tank, type TankRules } from '../racking/tank.ts';

/** The tank as it stands in a job and in the shop's book. See racking/tank.ts for axes and meaning; metres. */
const size = z.number().positive().max(20);
const place = z.number().min(-20).max(20);
const gap = z.number().nonnegative().max(5);

const sheetSchema = z.object({
  id: z.string().min(1),
  material: z.enum(CATHODE_MATERIALS),
  place: z.discriminatedUnion('on', [
    z.object({ on: z.literal('wall'), wall: z.enum(['x-', 'x+', 'y-', 'y+']), alongM: place }),
    z.object({ on: z.literal('round'), angleRad: z.number() }),
  ]),
  widthM: size,
  bottomM: gap,
  heightM: size,
  thicknessM: z.number().positive().max(0.5),
  standoffM: gap,
  backWorks: z.boolean(),
});

const barSchema = z.object({
  id: z.string().min(1),
  along: z.enum(['x', 'y']),
  acrossM: place,
  fromM: place,
  toM: place,
  heightM: size,
  role: z.enum(['work', 'cathode']),
});

export const tankSchema: z.ZodType<Tank> = z
  .object({
    name: z.string().min(1),
    vessel: z.discriminatedUnion('shape', [
      z.object({ shape: z.literal('box'), lengthM: size, widthM: size, heightM: size }),
      z.object({ shape: z.literal('round'), diameterM: size, heightM: size }),
    ]),
    levelM: size,
    cathodes: z.array(sheetSchema).max(50),
    bars: z.array(barSchema).max(50),
  })
  .refine((tank) => tank.levelM <= tank.vessel.heightM, 'the liquid stands above the rim')
  .refine(
    ({ vessel, cathodes }) =>
      cathodes.every(({ place: at }) => (at.on === 'round') === (vessel.shape === 'round')),
    'a sheet is made for another shape of tank',
  )
  .refine(({ vessel, cathodes }) => {
    const across = vessel.shape === 'round' ? vessel.diameterM : Math.min(vessel.lengthM, vessel.widthM);
    return cathodes.every(({ standoffM, thicknessM }) => standoffM + thicknessM < across / 2);
  }, 'a sheet leaves no room inside');

export const tankRulesSchema: z.ZodType<TankRules> = z.object({
  partToCathodeM: gap.default(USUAL_TANK_RULES.partToCathodeM),
  partToWallM: gap.default(USUAL_TANK_RULES.partToWallM),
  partToFloorM: gap.default(USUAL_TANK_RULES.partToFloorM),
  partToSurfaceM: gap.default(USUAL_TANK_RULES.partToSurfaceM),
  partToPartM: gap.default(USUAL_TANK_RULES.partToPartM),
  cathodeRatioLow: z.number().positive().max(100).default(USUAL_TANK_RULES.cathodeRatioLow),
  cathodeRatioHigh: z.number().positive().max(100).default(USUAL_TANK_RULES.cathodeRatioHigh),
});

/** The tank of a job: a copy, so that the job opens anywhere and a change in the book changes no old job. */
export const jobTankSchema = z.object({
  /** Of the shop's book; null for one that is only in this job. */
  shopTankId: z.string().nullable().default(null),
  tank: tankSchema,
  rules: tankRulesSchema,
});
export type JobTank = z.infer<typeof jobTankSchema>;

export const placementSchema = z.object({
  id: z.string().min(1),
  partId: z.string().min(1),
  pose: z.object({
    rotation: z.array(z.number()).length(9),
    offsetM: z.tuple([z.number(), z.number(), z.number()]),
  }),
});
