import { expect, it } from 'vitest';
import { newPart } from '../../../core/job/default-job.ts';
import type { Repair } from '../../../core/job/job-repairs.ts';
import type { Part } from '../../../core/job/job.ts';
import { standingSteps } from '../../../renderer/state/standing-steps.ts';

const LIST: readonly Repair[] = [{ kind: 'drop-lines' }, { kind: 'weld', distance: 0.1 }, { kind: 'turn' }];

const partWith = (repairs: Repair[]): Part => {
  const part = newPart('p', 'plate.stl', 84, 'mm', true);
  return { ...part, surface: { ...part.surface, repairs } };
};

const made = partWith([...LIST]);
// The worker's answer holds copies, as structured cloning makes them.
const repairs = LIST.map((repair, index) => ({
  repair: structuredClone(repair),
  areaBefore: 100 - index,
  areaAfter: 99 - index,
  trianglesAdded: 0,
}));

it('gives every step while the part wants what its mesh was made with', () => {
  expect(standingSteps(made, { made, repairs })).toEqual(repairs);
});

it('gives no step its neighbour’s areas once a middle repair is taken back', () => {
  const now = partWith([LIST[0]!, LIST[2]!]);
  expect(standingSteps(now, { made, repairs })).toEqual([repairs[0]]);
});

it('keeps the steps before a repair that was just accepted', () => {
  const now = partWith([...LIST, { kind: 'drop-doubles' }]);
  expect(standingSteps(now, { made, repairs })).toEqual(repairs);
});
