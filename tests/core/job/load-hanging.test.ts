import { expect, test } from 'vitest';
import { emptyJob, newPart } from '../../../core/job/default-job.ts';
import { chooseTank, putPlacement, setAttitude, setPlacements } from '../../../core/job/edit-hanging.ts';
import { addPart, removePart, setQuantity } from '../../../core/job/edit-job.ts';
import { jobTankSchema } from '../../../core/job/job-tank.ts';
import { loadAlone } from '../../../core/job/load-alone.ts';
import { hangInstead, hungPieces, placesOf, spreadLoad } from '../../../core/job/load-hanging.ts';
import { mapOfLoad } from '../../../core/job/map-of-load.ts';
import { migrateJob } from '../../../core/job/migrate-job.ts';
import { hangPieces, inTank, planTank } from '../../../core/job/tank-plan.ts';
import type { HangingSize } from '../../../core/racking/hanging-size.ts';
import type { Job } from '../../../core/job/job.ts';
import { USUAL_TANK_RULES } from '../../../core/racking/tank.ts';
import { oneSheetTank } from '../../fixtures/one-sheet-tank.ts';

const tank = oneSheetTank('s', 0.1);
const SIZES: Record<string, HangingSize> = {
  a: { alongM: 0.2, acrossM: 0.05, heightM: 0.2, middleM: [0, 0, 0] },
  b: { alongM: 0.1, acrossM: 0.05, heightM: 0.1, middleM: [0, 0, 0] },
};

/** Four wide pieces and three narrow: 4 · 200 + 3 · 100 + 6 · 30 mm are more than the 940 mm of the bar, so two loads. */
function twoLoads() {
  const parts = [newPart('a', 'wide.stl', 1, 'mm', true), newPart('b', 'narrow.stl', 1, 'mm', true)];
  const job = setQuantity(setQuantity(parts.reduce(addPart, emptyJob('two loads')), 'a', 4), 'b', 3);
  const hung = chooseTank(job, jobTankSchema.parse({ tank, rules: USUAL_TANK_RULES }));
  if (!inTank(hung)) throw new Error('no tank');
  const still = { ...hung, hanging: { ...hung.hanging, swingRad: 0 } };
  const items = still.parts.map(({ name, quantity }) => ({ name, quantity, areaM2: 0.02 }));
  const plan = planTank(still, items, SIZES);
  if (!plan.ok) throw new Error(plan.error.message);
  expect(plan.value.loads).toHaveLength(2);
  const [first, second] = plan.value.hanging.loads.map(({ pieces }) =>
    hangPieces(still, plan.value.rooms, SIZES, pieces),
  );
  return { job: still, loads: plan.value.loads, first: first!, second: second! };
}

/** The first piece of what hangs is put 7 mm along the bar by hand. */
const movedByHand = (job: Job): Job => {
  const copy = job.placements[0]!;
  const [x, y, z] = copy.pose.offsetM;
  return putPlacement(job, { ...copy, pose: { ...copy.pose, offsetM: [x + 0.007, y, z] } });
};

test('a load that makes room for another is found again as it was left by hand', () => {
  const { job, loads, first, second } = twoLoads();
  const one = movedByHand(hangInstead(job, first, loads));
  const two = movedByHand(hangInstead(one, second, loads));
  expect(hungPieces(two, two.placements)).toEqual(loads[1]!.pieces);
  expect(placesOf(two, loads[0]!.pieces)).toEqual(one.placements);
  const back = hangInstead(two, placesOf(two, loads[0]!.pieces)!, loads);
  expect(back.placements).toEqual(one.placements);
  expect(placesOf(back, loads[1]!.pieces)).toEqual(two.placements);
  // Each is in the job once, and none beside them.
  expect(back.otherLoads).toHaveLength(1);
});

test('what hangs and is no load is not kept; a load hung anew is not kept twice', () => {
  const { job, loads, first, second } = twoLoads();
  const some = hangInstead(setPlacements(job, first.slice(1)), second, loads);
  expect(some.otherLoads).toEqual([]);
  const one = movedByHand(hangInstead(job, first, loads));
  const anew = hangInstead(one, first, loads);
  expect(anew.placements).toEqual(setPlacements(job, first).placements);
  expect(anew.otherLoads).toEqual([]);
  // While nobody knows the loads nothing is given up.
  const two = hangInstead(one, second, loads);
  expect(hangInstead(two, first.slice(2), null).otherLoads).toEqual(two.otherLoads);
});

test('each load alone hangs as it hung, whichever hangs in the job', () => {
  const { job, loads, first, second } = twoLoads();
  const both = hangInstead(movedByHand(hangInstead(job, first, loads)), second, loads);
  const counts = (load: number) =>
    job.parts
      .map(({ id }, part) => ({ partId: id, count: loads[load]!.pieces[part]! }))
      .filter(({ count }) => count);
  loads.forEach((_, load) => {
    const alone = loadAlone(both, counts(load))!;
    expect(alone.placements).toEqual(placesOf(both, loads[load]!.pieces));
    expect(alone.otherLoads).toEqual([]);
    expect(hungPieces(alone, alone.placements)).toEqual(alone.parts.map(({ quantity }) => quantity));
  });
  // One that never hung has no places of its own, and takes none of another's.
  expect(loadAlone(setPlacements(job, first), counts(1))!.placements).toEqual([]);
});

test('a load that never hung is spaced evenly with the clearances, or said to have no room', () => {
  const { job, loads } = twoLoads();
  const spread = spreadLoad(job, loads[1]!.pieces, SIZES);
  if (!spread.ok || !spread.value.made.ok) throw new Error('no room');
  const placed = spread.value.made.value;
  expect(hungPieces(job, placed)).toEqual(loads[1]!.pieces);
  const ends = placed.map(({ partId, pose }) => ({ at: pose.offsetM[0], half: SIZES[partId]!.alongM / 2 }));
  ends.sort((p, q) => p.at - q.at);
  for (let i = 1; i < ends.length; i++) {
    expect(ends[i]!.at - ends[i]!.half - (ends[i - 1]!.at + ends[i - 1]!.half)).toBeGreaterThan(0.03 - 1e-9);
  }
  const all = spreadLoad(job, [4, 3], SIZES);
  expect(all.ok && all.value.made).toMatchObject({ ok: false, error: { code: 'no-room' } });
  // In a row all the same, for the exact distances to judge.
  expect(all.ok && all.value.inRow()).toHaveLength(7);
});

test('kept loads go with a part that is turned or taken out, and with the tank', () => {
  const { job, loads, first, second } = twoLoads();
  const both = hangInstead(hangInstead(job, first, loads), second, loads);
  expect(both.otherLoads).toHaveLength(1);
  expect(setAttitude(both, 'a', { up: [1, 0, 0], turnRad: 0 }).otherLoads).toEqual([]);
  expect(removePart(both, 'a').otherLoads).toEqual([]);
  expect(chooseTank(both, both.tank).otherLoads).toEqual([]);
});

test('a job of version 3 opens with what hung in it and no other load', () => {
  const { job, first } = twoLoads();
  const { otherLoads: _none, ...rest } = setPlacements(job, first);
  const opened = migrateJob(JSON.parse(JSON.stringify({ ...rest, version: 3 })));
  if (!opened.ok) throw new Error(opened.error.message);
  expect(opened.value.placements).toHaveLength(first.length);
  expect(opened.value.otherLoads).toEqual([]);
});

test('a map says which load it is of, and which loads of its part it is not of', () => {
  const { job } = twoLoads();
  const placed = (wide: number, narrow: number): Job['placements'] =>
    [...Array<string>(wide).fill('a'), ...Array<string>(narrow).fill('b')].map((partId, i) => ({
      id: `${i}`,
      partId,
      pose: { rotation: [1, 0, 0, 0, 1, 0, 0, 0, 1], offsetM: [0, 0, 0] },
    }));
  const mixed = [{ pieces: [2, 1] }, { pieces: [2, 2] }];
  const map = (placements: Job['placements'], loads = mixed, partId = 'a') =>
    mapOfLoad({ parts: job.parts, placements }, partId, loads);
  expect(map(placed(2, 1)).of).toBe('load 1');
  expect(map(placed(2, 1)).missing).toEqual({
    message: `This map is of load 1, as it hangs in the tank. Load 2 with “${job.parts[0]!.name}” hangs otherwise, and the film spreads otherwise in it.`,
    remedy: 'Hang load 2 at the tank stage, then work out the map again.',
  });
  expect(map(placed(2, 2)).of).toBe('load 2');
  expect(map(placed(1, 1)).of).toContain('none of the loads');
  expect(map(placed(1, 1)).missing?.remedy).toContain('Hang a load');
  // Loads alike hang alike: one map is of both.
  expect(map(placed(2, 1), [mixed[0]!, mixed[0]!])).toEqual({ of: 'loads 1 and 2', missing: null });
  // Nothing hangs: what was assumed for the map says so itself.
  expect(map([])).toEqual({ of: 'one piece alone', missing: null });
  // All wide ones in load 1 and none in load 2: nothing of theirs is missing.
  expect(map(placed(4, 0), [{ pieces: [4, 0] }, { pieces: [0, 3] }])).toEqual({
    of: 'load 1',
    missing: null,
  });
  // The job's only load, not hung in full.
  expect(map(placed(2, 1), [{ pieces: [4, 3] }]).missing?.message).toContain('is not hung yet');
});
