import { expectedVoltage, type ExpectedVoltage } from '../bath/expected-voltage.ts';
import type { Result } from '../result.ts';
import type { Job } from './job.ts';

/**
 * Voltage the cell is expected to need in the job's bath. Fails with `voltage-unknown` outside published figures.
 * What the user took over from the shop's own runs is held to have been read in a bath like the job's.
 */
export function jobVoltage(job: Job): Result<ExpectedVoltage> {
  const { temperatureK, acidKgPerM3 } = job.bath;
  const { currentDensityAPerM2, thicknessM, ownVoltage } = job.process;
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
  return expectedVoltage({ currentDensityAPerM2, temperatureK, acidKgPerM3 }, thicknessM, ownRuns);
}
