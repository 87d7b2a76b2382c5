import type { LearntCharge } from '../run/learn-charge.ts';
import type { LearntVoltage } from '../run/learn-voltage.ts';
import type { LearntHeating } from '../run/learn-heating.ts';
import { changeBath, changeProcess } from './edit-job.ts';
import type { Job } from './job.ts';

/** The charge constant of the shop's own runs, taken over into the job. */
export function takeOwnCharge(job: Job, learnt: LearntCharge, count: number): Job {
  const { chargePerVolumeCPerM3, relativeSd } = learnt;
  return changeProcess(job, {
    chargePerVolumeCPerM3,
    ownCharge: { chargePerVolumeCPerM3, relativeSd: Math.min(1, relativeSd), count },
  });
}

/** The voltage the contact watch then expects; throws RangeError where the runs did not tell its slope with the density. */
export function takeOwnVoltage(job: Job, learnt: LearntVoltage, count: number): Job {
  const { voltageV, voltageSdV, densityAPerM2, slopeVM2PerA, slopeSdVM2PerA } = learnt;
  if (slopeVM2PerA === null || slopeSdVM2PerA === null) {
    throw new RangeError('takeOwnVoltage: slopeVM2PerA is null');
  }
  const ownVoltage = { voltageV, voltageSdV, densityAPerM2, slopeVM2PerA, slopeSdVM2PerA, count };
  return changeProcess(job, { ownVoltage });
}

export function dropOwnVoltage(job: Job): Job {
  return changeProcess(job, { ownVoltage: undefined });
}

/** How the bath warmed in the shop's own runs, taken over into the job's heat balance. */
export function takeOwnHeating(job: Job, learnt: LearntHeating, count: number): Job {
  const { heatCapacityJPerK, lowJPerK, highJPerK, lossW } = learnt;
  return changeBath(job, { ownHeating: { heatCapacityJPerK, lowJPerK, highJPerK, lossW, count } });
}

export function dropOwnHeating(job: Job): Job {
  return changeBath(job, { ownHeating: null });
}
