import { plainTank } from '../racking/plain-tank.ts';
import { USUAL_TANK_RULES, type Tank } from '../racking/tank.ts';
import type { JobTank } from './job-tank.ts';

/** Of a plain tank, by its own sizes (common practice of small shops): how full, how much wall the sheets cover. */
const LEVEL_SHARE = 0.88;
const SHEET_SHARE = { box: 0.75, round: 0.727 } as const;
const BAR_OVER_RIM_M = 0.03;
const SHEET_BOTTOM_M = 0.05;
const SHEET_TOP_UNDER_RIM_M = 0.07;
const SHEET = { thicknessM: 0.003, standoffM: 0.005 } as const;

export const FIRST_TANKS = ['box', 'round', 'bucket'] as const;
export type FirstTank = (typeof FIRST_TANKS)[number];

const FIRST: Readonly<Record<FirstTank, { readonly name: string; readonly vessel: Tank['vessel'] }>> = {
  box: { name: 'Box tank', vessel: { shape: 'box', lengthM: 0.8, widthM: 0.5, heightM: 0.42 } },
  round: { name: 'Round tub', vessel: { shape: 'round', diameterM: 0.55, heightM: 0.42 } },
  // Inside a straight bucket of this size stand 20 L at the usual level.
  bucket: { name: 'Bucket', vessel: { shape: 'round', diameterM: 0.29, heightM: 0.34 } },
};
/** In a bucket the usual 150 mm to the sheets would leave no room at all; 40-60 mm are kept there (common practice). */
const BUCKET_TO_CATHODE_M = 0.05;

const toMm = (metres: number): number => Math.round(1000 * metres) / 1000;

/** A vessel fitted as plain ones are: two like sheets facing each other, one work bar along the middle. */
export function fittedTank(name: string, vessel: Tank['vessel']): Tank {
  const wallM = vessel.shape === 'box' ? vessel.lengthM : vessel.diameterM;
  return plainTank(name, vessel, {
    levelM: toMm(LEVEL_SHARE * vessel.heightM),
    barM: toMm(vessel.heightM + BAR_OVER_RIM_M),
    sheets: {
      ...SHEET,
      widthM: toMm(SHEET_SHARE[vessel.shape] * wallM),
      bottomM: Math.min(SHEET_BOTTOM_M, toMm(vessel.heightM / 4)),
      heightM: toMm(Math.max(vessel.heightM / 4, vessel.heightM - SHEET_BOTTOM_M - SHEET_TOP_UNDER_RIM_M)),
    },
  });
}

/** First tanks to change to one's own. */
export function firstTank(which: FirstTank): JobTank {
  const { name, vessel } = FIRST[which];
  const rules =
    which === 'bucket' ? { ...USUAL_TANK_RULES, partToCathodeM: BUCKET_TO_CATHODE_M } : USUAL_TANK_RULES;
  return { shopTankId: null, rules, tank: fittedTank(name, vessel) };
}
