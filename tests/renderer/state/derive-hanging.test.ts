import { expect, it, vi } from 'vitest';
import { emptyJob, newPart } from '../../../core/job/default-job.ts';
import { chooseTank } from '../../../core/job/edit-hanging.ts';
import { addPart, changeProcess, setQuantity } from '../../../core/job/edit-job.ts';
import { firstTank } from '../../../core/job/first-tank.ts';
import type { Job } from '../../../core/job/job.ts';
import { DEFAULT_SPLIT_ANGLE_RAD } from '../../../core/faces/split-faces.ts';
import { analysePart } from '../../../core/mesh/analyse-part.ts';
import * as packing from '../../../core/racking/pack-hanging-loads.ts';
import type { AppState } from '../../../renderer/state/app-state.ts';
import { createHangingDeriver } from '../../../renderer/state/derive-hanging.ts';
import { createHangingStore } from '../../../renderer/state/hanging-store.ts';
import { boxTriangles } from '../../fixtures/model-bytes.ts';

vi.mock('../../../core/racking/pack-hanging-loads.ts', { spy: true });

it('packs once for what it rests on, its what-ifs too, and anew when the tank is another', () => {
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
  const hanging = createHangingStore().getState();
  const ask = (now: Job) => {
    const { loadsWithin, plan } = deriver.tank(stateOf(now), items, hanging);
    return [plan?.ok && plan.value.loads.length, loadsWithin?.(0.1), loadsWithin?.(0.1)];
  };
  const spy = vi.mocked(packing.packHangingLoads);
  const first = ask(job);
  // Five pieces of 0.02 m² a load.
  expect(first.slice(1)).toEqual([4, 4]);
  const asked = spy.mock.calls.length;
  expect(ask({ ...job, note: 'another word' })).toEqual(first);
  expect(spy.mock.calls.length).toBe(asked);
  const tank = job.tank!;
  ask({ ...job, tank: { ...tank, rules: { ...tank.rules, partToPartM: 0.05 } } });
  expect(spy.mock.calls.length).toBeGreaterThan(asked);
});
