import { gatherParts } from './gather-parts.ts';
import { planJob, processOf } from './plan-job.ts';
import { planJson } from './plan-json.ts';
import { parsePlanOptions } from './plan-options.ts';
import { planText, proposalText } from './plan-text.ts';
import { printFailure } from './print-failure.ts';
import type { Verb } from './verb.ts';

const HELP = `tankside plan: area, current and time for parts from their model files.

tankside plan FILE [FILE…] [--unit UNIT] --thickness T --density J [options]
tankside plan JOB.tankside [options]

  FILE             a model: STEP, STL, OBJ, PLY or 3MF; the areas of several add up
  --unit UNIT      unit of the model: mm, cm, m, in or ft; once for all files or once for each.
                   STEP and 3MF state theirs and need none; for the others nothing is measured
                   without it: the sizes to choose from are listed instead
  --thickness T    film thickness with its unit: 25.4um, 1mil
  --density J      current density: 6A/ft2, 0.65A/dm2, 65A/m2
  --quantity N     pieces; once for all parts or once for each (default 1)
  --ramp T         even rise of the current from zero: 5min (default), 0
  --supply I       what the supply gives at most: 10A; splits the pieces into loads
  --charge K       charge constant: 720A.min/ft2/mil (default)
  --mask FACES     faces not to be coated, as the plan lists them: f3,f7; with several parts 2:f3
  --weld           join torn edges, as corners rounded apart by an export; says what it did to the area
  --sheet T        what is drawn without thickness is a sheet this thick: 2mm; both sides and its edges count
  --fuse           join bodies that touch or overlap, so that hidden faces leave the area
  --fuse-curved    as --fuse, and what only the facets of curved faces keep apart touches
  --vent VOIDS     hollows without a way out that have one in the real part: 1,3 or all; with several parts 2:1
  --threaded LIST  cylinders that carry a thread: f3=M6x1,f7=1/4-20; with several parts 2:f3=M6
  --round FACES    faces asked about that are round, drawn coarse: f3; one of a group says it for all
  --flat FACES     faces asked about that are flat sides, as of an octagon bar
  --waterline D    the part hangs only so deep in the bath, from its lowest point up: 40mm
  --job FILE       parts, treatments and process of a saved job, whatever its ending; other options win over it
  --faces          list every face
  --working        show formula, inputs and source of every figure
  --json           print one JSON object instead of text
  --help           show this

Exit code: 0 planned; 2 something is wrong with the input; 1 a fault in the program.
`;

/** From model files to current and time. */
export const planVerb: Verb = {
  name: 'plan',
  summary: 'area, current and time for parts from their model files',
  help: HELP,
  async run(args, output) {
    const options = parsePlanOptions(args);
    if (!options.ok) {
      printFailure(output, options.error);
      return 2;
    }
    const gathered = await gatherParts(options.value);
    const process = processOf(options.value, gathered.job);
    for (const { about, error, proposal } of gathered.problems) {
      printFailure(output, error, about);
      if (proposal) output.err(proposalText(proposal));
    }
    // A file that could not be read comes first; without the job nobody knows what it says of the process.
    const isReadable = gathered.problems.every(({ about, proposal }) => about === undefined || proposal);
    if (!process.ok && isReadable) printFailure(output, process.error);
    if (gathered.problems.length > 0 || !process.ok) return 2;
    const planned = planJob(gathered, process.value);
    output.out(
      options.value.json
        ? `${JSON.stringify(planJson(planned), null, 2)}\n`
        : planText(planned, options.value),
    );
    if (planned.plan.ok) return 0;
    printFailure(output, planned.plan.error);
    return 2;
  },
};
