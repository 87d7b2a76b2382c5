import { expect, it } from 'vitest';
import { emptyJob } from '../../../core/job/default-job.ts';
import { changeProcess } from '../../../core/job/edit-job.ts';
import { jobVoltage } from '../../../core/job/job-voltage.ts';

it('goes by the shop’s own voltage once the user has taken it over, at the density it was read at', () => {
  const job = emptyJob('plate');
  const densityAPerM2 = job.process.currentDensityAPerM2;
  const ownVoltage = {
    voltageV: 17.2,
    voltageSdV: 0.3,
    densityAPerM2,
    slopeVM2PerA: 0.04,
    slopeSdVM2PerA: 0.01,
    count: 5,
  };
  const book = jobVoltage(job);
  const own = jobVoltage(changeProcess(job, { ownVoltage }));
  if (!book.ok || !own.ok) throw new Error('both are inside the published figures');
  expect(book.value.start.source.standing).not.toBe('your own runs');
  expect(own.value.start.source.standing).toBe('your own runs');
  expect(own.value.start.valueSi).toBeCloseTo(17.2, 9);
  expect(own.value.ownRunsUsed).toBe(1);
});
