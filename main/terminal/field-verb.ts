import { formatNumber } from '../../core/units/format-quantity.ts';
import { fieldBytes } from '../../core/field/field-grid.ts';
import { printFigure } from '../../core/figure/print-figure.ts';
import { FIELD_GRIDS, type FieldGridName } from '../../core/job/job-field.ts';
import { mapOfLoad } from '../../core/job/map-of-load.ts';
import { failure, success, type Result } from '../../core/result.ts';
import { fieldReport, withUsualTank, type FieldReport } from './field-report.ts';
import { gatherParts, isMeshed } from './gather-parts.ts';
import { proposalText } from './plan-text.ts';
import { readCommandLine } from './command-line.ts';
import { loadInTank } from './load-in-tank.ts';
import { printFailure } from './print-failure.ts';
import type { Verb } from './verb.ts';
import { workingLines } from './working-lines.ts';
import { formatCount } from '../../core/units/format-count.ts';

const HELP = `tankside field: where the coating gets thick and where thin, before the run.

tankside field JOB [options]

  JOB              a saved job (.tankside) with its tank, loads, bath and plan
  --part N         only this part of the job, from 1; all of them when left out
  --load N         this load of the job in the tank, from 1, as it hangs there or last hung, else as the plan hangs it;
                   what hangs in the saved job when left out
  --grid NAME      how fine: quick, usual, fine or finest (default: the job’s own)
  --usual-tank     for a job without a tank: a plain box around the part, aluminium sheets on two sides
                   about 175 mm away, as an assumption
  --working        show formula, inputs and source of every figure
  --json           print one JSON object instead of text: mean, least, most, per face, volts, charge balance,
                   grid, error estimate; for several parts { "parts": [ … ] }
  --help           show this

Exit code: 0 done; 2 something is wrong with the input; 1 a fault in the program.
`;

const OPTIONS = {
  part: { type: 'string' },
  load: { type: 'string' },
  grid: { type: 'string' },
  'usual-tank': { type: 'boolean', default: false },
  working: { type: 'boolean', default: false },
  json: { type: 'boolean', default: false },
} as const;

interface FieldOptions {
  readonly jobFile: string;
  /** From 1. */
  readonly part: number | undefined;
  /** From 1. */
  readonly load: number | undefined;
  readonly grid: FieldGridName | undefined;
  readonly usualTank: boolean;
  readonly working: boolean;
  readonly json: boolean;
}

/** Failures: `option-unknown`, `option-invalid`, `file-missing`. */
function readOptions(args: readonly string[]): Result<FieldOptions> {
  const parsed = readCommandLine('field', args, OPTIONS);
  if (!parsed.ok) return parsed;
  const { values, positionals } = parsed.value;
  if (positionals.length !== 1) {
    return failure(
      'file-missing',
      positionals.length === 0 ? 'No job is named.' : 'More than one job is named.',
      'Name one saved job, for example plate.tankside.',
    );
  }
  const part = values.part === undefined ? undefined : Number(values.part);
  if (part !== undefined && !(Number.isInteger(part) && part >= 1)) {
    return failure(
      'option-invalid',
      `--part: “${values.part}” is not the number of a part.`,
      'Count the job’s parts from 1.',
    );
  }
  const load = values.load === undefined ? undefined : Number(values.load);
  if (load !== undefined && !(Number.isInteger(load) && load >= 1)) {
    return failure(
      'option-invalid',
      `--load: “${values.load}” is not the number of a load.`,
      'Count the job’s loads from 1, as plan lists them.',
    );
  }
  const names = Object.keys(FIELD_GRIDS) as FieldGridName[];
  const grid = names.find((name) => name === values.grid);
  if (values.grid !== undefined && !grid) {
    return failure('option-invalid', `--grid: “${values.grid}” is not a grid.`, `Use ${names.join(', ')}.`);
  }
  return success({
    jobFile: positionals[0]!,
    part,
    load,
    grid,
    usualTank: values['usual-tank'],
    working: values.working,
    json: values.json,
  });
}

/** From a saved job to the thickness on its parts. */
export const fieldVerb: Verb = {
  name: 'field',
  summary: 'where the coating of a job’s parts gets thick and where thin, and the volts it needs',
  help: HELP,
  async run(args, output) {
    const read = readOptions(args);
    if (!read.ok) {
      printFailure(output, read.error);
      return 2;
    }
    const options = read.value;
    const gathered = await gatherParts({ files: [], jobFile: options.jobFile });
    for (const { about, error, proposal } of gathered.problems) {
      printFailure(output, error, about);
      if (proposal) output.err(proposalText(proposal));
    }
    if (gathered.problems.length > 0 || !gathered.job) return 2;
    const meshed = gathered.parts.filter(isMeshed);
    const wanted = options.part === undefined ? meshed : meshed.slice(options.part - 1, options.part);
    if (wanted.length === 0) {
      const error = failure(
        'no-part',
        options.part === undefined
          ? 'The job has no part with a model.'
          : `The job has ${meshed.length} ${meshed.length === 1 ? 'part' : 'parts'} with a model, and --part ${options.part} is none of them.`,
        'Count the job’s parts with a model from 1.',
      ).error;
      printFailure(output, error, options.jobFile);
      return 2;
    }
    let { job } = gathered;
    if (!job.tank && !options.usualTank) {
      const error = failure(
        'no-tank',
        'The job has no tank, and where the current goes depends on its walls and cathodes.',
        'Set one up in the program, or take a usual one with --usual-tank.',
      ).error;
      printFailure(output, error, options.jobFile);
      return 2;
    }
    const assumed: string[] = [];
    if (!job.tank) {
      job = withUsualTank(job, wanted);
      assumed.push('The job has no tank: a usual one around the part was taken (--usual-tank).');
    }
    const hung = loadInTank(job, gathered.parts, options.load);
    if (!hung.ok) {
      printFailure(output, hung.error, options.jobFile);
      return 2;
    }
    const { loads, how } = hung.value;
    job = hung.value.job;
    const hasPiecesOf = ({ part: { id } }: (typeof wanted)[number]): boolean =>
      options.load === undefined || job.placements.some(({ partId }) => partId === id);
    const mapped = wanted.filter(hasPiecesOf);
    if (mapped.length === 0) {
      const error = failure(
        'no-part',
        `Load ${options.load} has no piece of this part.`,
        'Name a load that has, as plan lists them.',
      ).error;
      printFailure(output, error, options.jobFile);
      return 2;
    }
    const mostCells = FIELD_GRIDS[options.grid ?? job.field.grid];
    output.err(`about ${formatCount(mostCells)} cells, ${Math.ceil(fieldBytes(mostCells) / 1e6)} MB\n`);
    const reports: LoadReport[] = [];
    for (const part of mapped) {
      let quarters = 0;
      const report = fieldReport(job, meshed, part, mostCells, ({ share, grid, relativeResidual }) => {
        if (Math.floor(4 * share) <= quarters) return;
        quarters = Math.floor(4 * share);
        output.err(
          `${part.file}: ${25 * quarters} %, ${grid} grid, imbalance ${relativeResidual.toExponential(0)}\n`,
        );
      });
      if (!report.ok) {
        printFailure(output, report.error, part.file);
        return 2;
      }
      const { of, missing } = mapOfLoad(job, part.part.id, loads);
      reports.push({
        ...report.value,
        missing: missing ? missing.message : '',
        json: {
          ...report.value.json,
          of: how || of,
          assumed: [...assumed, ...report.value.json.assumed],
        },
      });
    }
    const jsons = reports.map(({ json }) => json);
    output.out(
      options.json
        ? `${JSON.stringify(jsons.length === 1 ? jsons[0] : { parts: jsons }, null, 2)}\n`
        : reports.map((report) => fieldText(report, options.working)).join('\n'),
    );
    return 0;
  },
};

const MOST_FACES = 20;

/** A report, with what of the job it is of. */
type LoadReport = Omit<FieldReport, 'json'> & {
  readonly json: FieldReport['json'] & { readonly of: string };
  readonly missing: string;
};

function fieldText({ file, reading, bores, json, missing }: LoadReport, working: boolean): string {
  const { figures } = reading;
  const lines = [
    file,
    ...(json.of === '' ? [] : [`  of: ${json.of}`]),
    ...(missing === '' ? [] : [`  note: ${missing}`]),
    ...json.assumed.map((text) => `  assumed: ${text}`),
  ];
  for (const figure of [
    figures.meanM,
    figures.leastM,
    figures.mostM,
    figures.areaBelowM2,
    figures.cellVoltageV,
    ...(working ? [figures.chargeImbalance, reading.setting.conductivity] : []),
  ]) {
    const printed = printFigure(figure, 'metric');
    lines.push(
      `  ${printed.label}: ${[printed.value.text, printed.also, printed.range].filter(Boolean).join(' · ')}`,
    );
    if (!working) continue;
    lines.push(...workingLines(printed));
  }
  lines.push(
    `  grid: ${formatCount(json.grid.cells)} cells, ${json.grid.spacingMm.toPrecision(2)} mm at the part; current out of the parts and into the cathodes alike to ${alikeTo(json.chargeBalance.imbalance)}`,
    '  faces, thinnest first (mean, least, most in µm):',
  );
  const faces = [...json.faces].sort((a, b) => a.leastUm - b.leastUm);
  for (const { id, meanUm, leastUm, mostUm } of faces.slice(0, MOST_FACES)) {
    lines.push(
      `    ${id.padEnd(5)} ${[meanUm, leastUm, mostUm].map((x) => x.toFixed(2).padStart(8)).join('')}`,
    );
  }
  if (faces.length > MOST_FACES) lines.push(`    and ${faces.length - MOST_FACES} thicker ones`);
  for (const { bore, heldM, bare } of bores) {
    const size = `${(2000 * bore.radiusM).toPrecision(3)} mm across, ${(1000 * bore.depthM).toPrecision(3)} mm ${bore.through ? 'through' : 'deep'}`;
    const held =
      bare || heldM === null
        ? 'not coated'
        : `at least ${json.limitUm.toPrecision(3)} µm on ${(1000 * heldM).toPrecision(3)} mm`;
    lines.push(`  hole ${bore.faceIds.join(' + ')}, ${size}: ${held}`);
  }
  lines.push('  current:');
  for (const { name, role, currentA } of json.currents)
    lines.push(`    ${name} (${role}): ${currentA.toFixed(3)} A`);
  return `${lines.join('\n')}\n`;
}

const alikeTo = (share: number): string =>
  Math.abs(share) < 1e-6 ? 'less than a millionth' : `${formatNumber(100 * Math.abs(share), 1)} %`;
