import { expect, test } from 'vitest';
import { emptyJob } from '../../../core/job/default-job.ts';

test('a new job is planned in round numbers of the reader’s units', () => {
  const [metric, us] = (['metric', 'us'] as const).map((system) => emptyJob('new', system).process);
  expect(metric!.thicknessM).toBe(25e-6);
  expect(metric!.currentDensityAPerM2).toBe(130);
  // 1 mil, and 12 A over the square of 0.3048 m.
  expect(us!.thicknessM).toBeCloseTo(25.4e-6, 12);
  expect(us!.currentDensityAPerM2).toBeCloseTo(12 / 0.3048 ** 2, 9);
  expect(metric!.rampS).toBe(us!.rampS);
});
