import { expectedVoltage, type ExpectedVoltage } from '../bath/expected-voltage.ts';
import type { Result } from '../result.ts';
import type { Job } from './job.ts';

/** Voltage the cell is expected to need in the job's bath. Fails with `voltage-unknown` outside published figures. */
export function jobVoltage(job: Job): Result<ExpectedVoltage> {
  const { temperatureK, acidKgPerM3 } = job.bath;
  const { currentDensityAPerM2, thicknessM } = job.process;
  return expectedVoltage({ currentDensityAPerM2, temperatureK, acidKgPerM3 }, thicknessM);
}
