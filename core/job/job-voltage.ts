import {
  expectedVoltage,
  type CellConditions,
  type ExpectedVoltage,
  type OwnVoltage,
} from '../bath/expected-voltage.ts';
import { heatVoltage, type HeatVoltage } from '../bath/heat-voltage.ts';
import type { Result } from '../result.ts';
import { bathStartK } from './bath-start.ts';
import type { Job } from './job.ts';

/**
 * Voltage the cell is expected to need in the job's bath. Fails with `voltage-unknown` outside published figures.
 * What the user took over from the shop's own runs is held to have been read in a bath like the job's.
 */
export function jobVoltage(job: Job): Result<ExpectedVoltage> {
  const { at, ownRuns } = cellOf(job);
  return expectedVoltage(at, job.process.thicknessM, ownRuns);
}

/** Voltage that heat and film limit are reckoned with: the expected one, or a stated bound where none is published. */
export function jobHeatVoltage(job: Job): Result<HeatVoltage> {
  const { at, ownRuns } = cellOf(job);
  return heatVoltage(at, job.process.thicknessM, ownRuns, job.process.supplyVoltageLimitV);
}

/** As the run finds its bath, ice counted. */
function cellOf(job: Job): { at: CellConditions; ownRuns: OwnVoltage[] } {
  const { acidKgPerM3 } = job.bath;
  const temperatureK = bathStartK(job);
  const { currentDensityAPerM2, ownVoltage } = job.process;
  const ownRuns = ownVoltage
    ? [
        {
          voltageV: ownVoltage.voltageV,
          currentDensityAPerM2: ownVoltage.densityAPerM2,
          temperatureK,
          acidKgPerM3,
        },
      ]
    : [];
  return { at: { currentDensityAPerM2, temperatureK, acidKgPerM3 }, ownRuns };
}
