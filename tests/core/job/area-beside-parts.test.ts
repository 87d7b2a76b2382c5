import { expect, test } from 'vitest';
import { planRun } from '../../../core/electrical/plan-run.ts';
import { splitAreaTakingCurrent } from '../../../core/job/area-beside-parts.ts';
import { DEFAULT_PROCESS, newPart } from '../../../core/job/default-job.ts';
import { FIRST_HANGER } from '../../../core/job/job-hanging.ts';
import { loadItems } from '../../../core/job/load-items.ts';
import { measureTyped } from '../../../core/job/measure-part.ts';
import type { Part } from '../../../core/job/job.ts';
import { valueOf } from '../value-of.ts';

const pin = (material: 'Al 5356' | 'Ti grade 2'): Part['contacts'][number] => ({
  id: 'c',
  at: [0, 0, 0],
  triangle: 0,
  patchDiameterM: 0.003,
  hanger: { ...FIRST_HANGER, material, diameterM: 0.003, wetLengthM: 0.1, hookLengthM: 0, count: 2 },
});
const parts: Part[] = [
  { ...newPart('a', 'a.stl', 0, 'mm', true), quantity: 3, contacts: [pin('Al 5356')] },
  { ...newPart('b', 'b.stl', 0, 'mm', true), quantity: 2, contacts: [pin('Ti grade 2')] },
];
const measures = { a: measureTyped(0.01), b: measureTyped(0.002) };
const split = (bus?: { areaM2: number; inputs: [] }) => {
  const plan = valueOf(planRun(loadItems(parts, measures), DEFAULT_PROCESS, bus ? { busEnds: bus } : {}));
  return splitAreaTakingCurrent(parts, measures, plan);
};

test('aluminium wires stand apart from the parts, titanium counts nowhere', () => {
  const { coatedM2, besideM2 } = split();
  expect(coatedM2).toBeCloseTo(0.034, 12);
  // Three pieces with two wires each: π d l and one end.
  expect(besideM2).toBeCloseTo(3 * 2 * (Math.PI * 0.003 * 0.1 + (Math.PI * 0.003 ** 2) / 4), 12);
});

test('bus ends are beside the parts too; without either nothing is', () => {
  const wires = split().besideM2;
  expect(split({ areaM2: 0.0005, inputs: [] }).besideM2 - wires).toBeCloseTo(0.0005, 12);
  const bare = parts.map((part) => ({ ...part, contacts: [] }));
  const plan = valueOf(planRun(loadItems(bare, measures), DEFAULT_PROCESS));
  expect(splitAreaTakingCurrent(bare, measures, plan)).toEqual({ coatedM2: 0.034, besideM2: 0 });
});
