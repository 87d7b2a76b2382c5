import { icedBath, THERMOMETER_K, type IcedBath } from '../bath/iced-bath.ts';
import { HARD_COAT_FROM } from '../bath/bath-messages.ts';
import { BATH_TEMPERATURE } from '../reference/bath-limits.ts';
import { bathVessel } from './bath-vessel.ts';
import type { Job } from './job.ts';

/** The job's bath after `iceKg` of ice has melted in it; null while its volume is not known, or where that can not be. */
export function jobIcedBath(job: Job, iceKg: number): IcedBath | null {
  const { temperatureK: startK, acidKgPerM3, ownHeating } = job.bath;
  const vessel = bathVessel(job);
  if (vessel === null) return null;
  const ownJPerK = ownHeating?.heatCapacityJPerK ?? null;
  const iced = icedBath({ volumeM3: vessel.volumeM3, acidKgPerM3, startK, iceKg, ownJPerK });
  return iced.ok ? iced.value : null;
}

/** Bath as the run finds it: as typed, cooled by the ice that is put in before; the ice counts once the volume is known. */
export function bathStartK(job: Job): number {
  const { temperatureK, iceKg } = job.bath;
  return iceKg === 0 ? temperatureK : (jobIcedBath(job, iceKg)?.startK ?? temperatureK);
}

/** Whether the run is a hard coat’s in a bath cold enough for one. */
export function isColdBath(job: Job): boolean {
  const { thicknessM, currentDensityAPerM2 } = job.process;
  const asks = thicknessM > HARD_COAT_FROM.thicknessM || currentDensityAPerM2 >= HARD_COAT_FROM.densityAPerM2;
  return asks && bathStartK(job) <= HARD_COAT_FROM.softensAboveK;
}

/** Whether it is to be cooled before the power goes on. */
export function startsTooWarm(job: Job): boolean {
  return bathStartK(job) > bathLimitK(job) + THERMOMETER_K;
}

/** What the bath must stay below: as typed, else 24 °C, and 5 °C for a hard coat’s bath. */
export function bathLimitK(job: Job): number {
  const { ordinary, hard } = BATH_TEMPERATURE;
  return job.bath.limitK ?? (isColdBath(job) ? hard.highK : ordinary.highK);
}
