import { expect, it } from 'vitest';
import { planRun } from '../../../core/electrical/plan-run.ts';
import { emptyJob, newPart } from '../../../core/job/default-job.ts';
import { addPart } from '../../../core/job/edit-job.ts';
import { setAlloy } from '../../../core/job/edit-wet.ts';
import { troubleFacts } from '../../../core/job/finish-plan.ts';
import { loadTroubleFacts } from '../../../core/job/load-trouble-facts.ts';
import { valueOf } from '../value-of.ts';

const two = () => {
  let job = addPart(emptyJob('two'), newPart('a', 'plate.stl', 3, 'mm', true));
  job = addPart(job, newPart('b', 'ring.stl', 3, 'mm', true));
  return setAlloy(setAlloy(job, 'a', '6061'), 'b', '2024');
};

it('knows what any of the parts in the load knows: copper of the second part too', () => {
  const job = two();
  const plan = valueOf(
    planRun(
      [
        { name: 'plate', areaM2: 0.02, quantity: 1 },
        { name: 'ring', areaM2: 0.01, quantity: 2 },
      ],
      job.process,
    ),
  );
  const [a, b] = job.parts;
  const first = troubleFacts(job, plan, null, a);
  const second = troubleFacts(job, plan, null, b);
  const both = loadTroubleFacts(job, plan, null, 0, {});
  expect(second.copperFraction!).toBeGreaterThan(first.copperFraction!); // 2024 has copper, 6061 hardly any
  expect(both.copperFraction).toBe(second.copperFraction);
  expect(both.siliconFraction).toBe(Math.max(first.siliconFraction!, second.siliconFraction!));
  expect(both.pieces).toBe(3);
  expect(both.areaSpread).toBe(first.areaSpread);
  // What nobody measured stays unknown.
  expect(both.contactLoad).toBeNull();
});

it('leaves parts out that hang in another load, and asks all where there is no plan', () => {
  const job = two();
  const plan = valueOf(planRun([{ name: 'plate', areaM2: 0.02, quantity: 1 }], job.process));
  const onlyFirst = { ...plan, loads: [{ ...plan.loads[0]!, pieces: [1, 0] }] };
  const [a, b] = job.parts;
  expect(loadTroubleFacts(job, onlyFirst, null, 0, {}).copperFraction).toBe(
    troubleFacts(job, plan, null, a).copperFraction,
  );
  expect(loadTroubleFacts(job, null, null, 0, {}).copperFraction).toBe(
    troubleFacts(job, null, null, b).copperFraction,
  );
});
