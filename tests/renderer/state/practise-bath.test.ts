import { expect, test } from 'vitest';
import { changeBath } from '../../../core/job/edit-job.ts';
import { emptyJob } from '../../../core/job/default-job.ts';
import { jobHeat } from '../../../core/job/bath-plan.ts';
import { loadPlan } from '../../../core/job/load-plan.ts';
import { planRun } from '../../../core/electrical/plan-run.ts';
import { simulatedFeed } from '../../../renderer/state/simulated-feed.ts';

test.each([0.02, 0.06, 0.2])(
  'practise warms a bath of %d m³ as the plan says it would, within the practise’s own voltage',
  (volumeM3) => {
    const job = changeBath(emptyJob('practise'), { volumeM3 });
    const items = [{ name: 'plate', areaM2: 0.04, quantity: 1 }];
    const plan = planRun(items, job.process);
    if (!plan.ok) throw new Error(plan.error.message);
    const planned = jobHeat(job, plan.value);
    if (!planned?.ok) throw new Error('no heat');
    const load = loadPlan(job, plan.value, 0);
    const endS = load.rampS + load.holdS;
    const practise = { seed: 7, fault: 'none', faultAtS: 0, lostShare: 0, speed: 1, acts: [] } as const;
    const readings = simulatedFeed(load, { ...practise, acts: [] }).between(0, endS);
    const warmedK = readings.at(-1)!.bathTemperatureK! - job.bath.temperatureK;
    const plannedK = planned.value.endTemperature.valueSi - job.bath.temperatureK;
    expect(plannedK).toBeGreaterThan(0.05);
    // The thermometer shows tenths; heat of reaction and evaporation are the plan's alone.
    expect(Math.abs(warmedK - plannedK)).toBeLessThan(0.06 + 0.35 * plannedK);
  },
);
