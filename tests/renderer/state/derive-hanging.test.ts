import { expect, it } from 'vitest';
import { planRun } from '../../../core/electrical/plan-run.ts';
import { emptyJob, newPart } from '../../../core/job/default-job.ts';
import { chooseTank } from '../../../core/job/edit-hanging.ts';
import { addPart, changeProcess, setQuantity } from '../../../core/job/edit-job.ts';
import { firstTank } from '../../../core/job/first-tank.ts';
import { NO_PACKING_HELP, packLoadsOf } from '../../../core/job/pack-request.ts';
import { loadsWithin } from '../../../core/job/tank-plan.ts';
import type { Job } from '../../../core/job/job.ts';
import { DEFAULT_SPLIT_ANGLE_RAD } from '../../../core/faces/split-faces.ts';
import { analysePart } from '../../../core/mesh/analyse-part.ts';
import type { AppState } from '../../../renderer/state/app-state.ts';
import { createHangingDeriver } from '../../../renderer/state/derive-hanging.ts';
import { createHangingStore } from '../../../renderer/state/hanging-store.ts';
import { boxTriangles } from '../../fixtures/model-bytes.ts';

it('asks for packing once for what it rests on, keeps the loads while they hold the pieces, and takes those that come', () => {
  const geometry = analysePart(Float32Array.from(boxTriangles(60, 20, 90).flat()), [], {
    splitAngleRad: DEFAULT_SPLIT_ANGLE_RAD,
  });
  const job: Job = chooseTank(
    changeProcess(setQuantity(addPart(emptyJob('job'), newPart('p', 'p.stl', 1, 'mm', true)), 'p', 20), {
      supplyCurrentLimitA: 20,
    }),
    firstTank('box'),
  );
  const stateOf = (now: Job): AppState =>
    ({
      history: { present: { document: now } },
      unitSystem: 'metric',
      meshes: { p: { geometry } },
    }) as unknown as AppState;
  const items = [{ name: 'p', areaM2: 0.02, quantity: 20 }];
  const deriver = createHangingDeriver();
  const store = createHangingStore();
  const ask = (now: Job, pieces = items) => deriver.tank(stateOf(now), pieces, store.getState());
  const first = ask(job);
  expect([first.plan, first.isPacking]).toEqual([null, true]);
  const { request } = first;
  store.setState({ packed: { request: request!, ...packLoadsOf(request!), help: NO_PACKING_HELP } });
  const packed = ask(job);
  // 0.02 m² at 12 A/ft² (129 A/m²) take 2.58 A: seven of 20 hold, so three loads.
  expect(packed.isPacking).toBeUndefined();
  expect(packed.plan?.ok && packed.plan.value.loads.length).toBe(3);
  // What the plan asks of lower densities was asked of the packer: the same areas, to the last digit.
  const run = planRun(items, job.process, {
    ...(packed.plan?.ok ? { loads: packed.plan.value.loads } : {}),
    loadsWithin: packed.loadsWithin!,
  });
  const direct = planRun(items, job.process, {
    ...(packed.plan?.ok ? { loads: packed.plan.value.loads } : {}),
    loadsWithin: (areaM2) => loadsWithin(request!.job, items, request!.sizes, areaM2),
  });
  if (!run.ok || !direct.ok) throw new Error('no plan');
  expect(run.value.options.length).toBeGreaterThan(0);
  expect(run.value.options).toEqual(direct.value.options);
  // A word in the note asks for nothing.
  expect(ask({ ...job, note: 'another word' }).request).toBe(request);
  // Another clearance: the loads as they were, with the areas of now, until the new ones are there.
  const tank = job.tank!;
  const wider = { ...job, tank: { ...tank, rules: { ...tank.rules, partToPartM: 0.05 } } };
  const between = ask(wider, [{ ...items[0]!, areaM2: 0.03 }]);
  expect(between.isPacking).toBe(true);
  expect(between.plan?.ok && between.plan.value.loads[0]!.areaM2).toBeCloseTo(7 * 0.03, 12);
  expect(between.request!.key).not.toBe(request!.key);
  // More pieces than those loads hold: none.
  expect(ask(setQuantity(job, 'p', 21), [{ ...items[0]!, quantity: 21 }]).plan).toBeNull();
});
