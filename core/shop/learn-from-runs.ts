import { learnChargeConstant, type LearntCharge } from '../run/learn-charge.ts';
import { learnHeating, type LearntHeating } from '../run/learn-heating.ts';
import { learnVoltage, type LearntVoltage } from '../run/learn-voltage.ts';
import type { Learnt } from '../run/learnt.ts';
import type { RunSummary } from './run-summary.ts';

/** What is offered, and the runs it comes from: places in `outliers` are places in `runs`. */
export interface Learning<T> {
  readonly runs: readonly RunSummary[];
  readonly learnt: Learnt<T>;
}

export interface ShopLearning {
  readonly charge: Learning<LearntCharge>;
  readonly voltage: Learning<LearntVoltage>;
  readonly heating: Learning<LearntHeating>;
}

/** More than this of the run without readings, and its charge is not known well enough to learn from. */
const MOST_GAP_SHARE = 0.02;

/** From the shop's own finished runs; simulated ones and those where area or contact went wrong teach nothing. */
export function learnFromRuns(all: readonly RunSummary[]): ShopLearning {
  const sound = all.filter(
    ({ outcome, simulated, troubled, durationS, gapS }) =>
      outcome !== 'running' &&
      !simulated &&
      !troubled &&
      durationS !== null &&
      durationS > 0 &&
      gapS !== null &&
      gapS <= MOST_GAP_SHARE * durationS,
  );
  const charge = sound.filter(
    ({ measuredM, chargeC }) => measuredM !== null && chargeC !== null && chargeC > 0,
  );
  const voltage = sound.filter(
    (run) =>
      run.steadyVoltageV !== null &&
      run.steadyVoltageV > 0 &&
      run.steadyCurrentA !== null &&
      run.steadyCurrentA > 0 &&
      run.steadyTemperatureK !== null,
  );
  const heating = sound.filter(
    (run) =>
      run.riseK !== null &&
      run.energyJ !== null &&
      run.energyJ > 0 &&
      run.chargeC !== null &&
      run.chargeC > 0,
  );
  return {
    charge: {
      runs: charge,
      learnt: learnChargeConstant(
        charge.map((run) => ({ chargeC: run.chargeC!, areaM2: run.areaM2, thicknessM: run.measuredM! })),
      ),
    },
    voltage: {
      runs: voltage,
      learnt: learnVoltage(
        voltage.map((run) => ({
          voltageV: run.steadyVoltageV!,
          currentDensityAPerM2: run.steadyCurrentA! / run.areaM2,
          bathTemperatureK: run.steadyTemperatureK!,
        })),
      ),
    },
    heating: {
      runs: heating,
      learnt: learnHeating(
        heating.map((run) => ({
          energyJ: run.energyJ!,
          chargeC: run.chargeC!,
          riseK: run.riseK!,
          durationS: run.durationS!,
        })),
      ),
    },
  };
}
