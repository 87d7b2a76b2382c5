/**
 * Times what has a promise attached, on this machine, and says whether each promise holds.
 *
 *   npm run bench                       every subject
 *   npm run bench -- geometry           one group
 *   npm run bench -- geometry/area      one subject
 *
 * A subject is a file beside this one that exports a BenchSubject; it registers in the list below.
 */
import { analysis } from './analysis.ts';
import { area } from './area.ts';
import { contactPatch } from './contact-patch.ts';
import { drag } from './drag.ts';
import { facets } from './facets.ts';
import { field } from './field.ts';
import { hanging } from './hanging.ts';
import { machineLine, printTargets, type BenchSubject } from './harness.ts';
import { kernelAreas } from './kernel-areas.ts';
import { logbook } from './logbook.ts';
import { memory } from './memory.ts';
import { picking } from './picking.ts';
import { prepare } from './prepare.ts';
import { step } from './step.ts';
import { run as contactWatch } from './run.ts';
import { pageLoad } from './window.ts';

const SUBJECTS: readonly BenchSubject[] = [
  area,
  analysis,
  facets,
  kernelAreas,
  prepare,
  memory,
  picking,
  contactPatch,
  field,
  hanging,
  contactWatch,
  logbook,
  step,
  pageLoad,
  drag,
];

const wanted = process.argv.slice(2).filter((argument) => !argument.startsWith('-'));
const chosen = SUBJECTS.filter(
  ({ name }) => wanted.length === 0 || wanted.some((word) => name === word || name.startsWith(`${word}/`)),
);
if (chosen.length === 0) {
  console.error(`No subject ${wanted.join(', ')}; there are: ${SUBJECTS.map(({ name }) => name).join(', ')}`);
  process.exitCode = 2;
}
console.log(machineLine());
for (const { name, run } of chosen) {
  console.log(`\n== ${name}`);
  printTargets(await run());
}
