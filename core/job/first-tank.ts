import { plainTank } from '../racking/plain-tank.ts';
import { USUAL_TANK_RULES } from '../racking/tank.ts';
import type { JobTank } from './job-tank.ts';

const HEIGHTS = { vesselM: 0.42, levelM: 0.37, barM: 0.45 } as const;
const SHEETS = { bottomM: 0.05, heightM: 0.3, thicknessM: 0.003, standoffM: 0.005 } as const;

/** First tanks to change to one's own: usual sizes of a small shop (common practice), sheets on both long sides, one work bar. */
export function firstTank(shape: 'box' | 'round'): JobTank {
  const tank =
    shape === 'box'
      ? plainTank(
          'Box tank',
          { shape, lengthM: 0.8, widthM: 0.5, heightM: HEIGHTS.vesselM },
          { levelM: HEIGHTS.levelM, barM: HEIGHTS.barM, sheets: { ...SHEETS, widthM: 0.6 } },
        )
      : plainTank(
          'Round tub',
          { shape, diameterM: 0.55, heightM: HEIGHTS.vesselM },
          { levelM: HEIGHTS.levelM, barM: HEIGHTS.barM, sheets: { ...SHEETS, widthM: 0.4 } },
        );
  return { shopTankId: null, rules: USUAL_TANK_RULES, tank };
}
