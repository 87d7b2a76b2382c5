import { expect, it } from 'vitest';
import { emptyJob, newPart } from '../../../core/job/default-job.ts';
import { addPart } from '../../../core/job/edit-job.ts';
import { setAlloy } from '../../../core/job/edit-wet.ts';
import { toBeDyed } from '../../../core/job/to-be-dyed.ts';

it('says of each alloy which loads hold it, where not all of them do', () => {
  const job = [
    ['a', '6082'],
    ['b', '2024'],
    ['c', '2024'],
    ['d', null],
  ].reduce(
    (now, [id, alloy]) => setAlloy(addPart(now, newPart(id!, `${id}.stl`, 3, 'mm', true)), id!, alloy!),
    emptyJob('all'),
  );
  const alloys = (...loads: number[][]) =>
    toBeDyed(
      job,
      loads.map((pieces) => ({ pieces })),
    ).alloys;
  expect(alloys([1, 0, 0, 0], [1, 1, 0, 0], [2, 0, 1, 1])).toEqual([
    { name: '6082', loads: [] },
    { name: '2024', loads: [2, 3] },
  ]);
  expect(alloys([1, 1, 1, 1])).toEqual([
    { name: '6082', loads: [] },
    { name: '2024', loads: [] },
  ]);
  expect(alloys()).toEqual(alloys([1, 1, 1, 1]));
});
