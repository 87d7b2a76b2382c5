import type { HangingSize } from '../racking/hanging-size.ts';
import { plainTank } from '../racking/plain-tank.ts';
import { USUAL_TANK_RULES } from '../racking/tank.ts';
import type { JobTank } from './job-tank.ts';

/** Middle of the usual 150-200 mm between part and sheet (common practice). */
const PART_TO_CATHODE_M = 0.175;
const BESIDE_M = 0.1;
const RIM_M = 0.05;
const SHEET_M = 0.002;
const STEP_M = 0.01;

/**
 * A plain box around a part as it hangs, where the job has no tank yet: aluminium sheets on the two long walls about 175 mm
 * from the part, a bar over the middle. An assumption, to be offered and named as one.
 */
export function usualTank({ alongM, acrossM, heightM, depthM }: HangingSize): JobTank {
  const up = (sizeM: number): number => Math.ceil(sizeM / STEP_M - 1e-9) * STEP_M;
  const lengthM = up(alongM + 2 * BESIDE_M);
  const widthM = up(acrossM + 2 * PART_TO_CATHODE_M);
  const { partToFloorM, partToSurfaceM } = USUAL_TANK_RULES;
  const levelM = up(partToFloorM + (depthM ?? heightM + partToSurfaceM));
  const vesselM = levelM + RIM_M;
  // A part that stands out of the liquid ends under the bar as well.
  const overM = depthM === undefined ? 0 : up(heightM - depthM);
  return {
    shopTankId: null,
    rules: USUAL_TANK_RULES,
    tank: plainTank(
      'Usual tank around the part (assumed)',
      { shape: 'box', lengthM, widthM, heightM: vesselM },
      {
        levelM,
        barM: Math.max(vesselM, levelM + overM) + RIM_M,
        sheets: {
          widthM: lengthM - 2 * STEP_M,
          bottomM: STEP_M,
          heightM: vesselM - STEP_M,
          thicknessM: SHEET_M,
          standoffM: 0,
        },
      },
    ),
  };
}
