import type { ModelUnit } from '../../core/job/job.ts';
import { alloyByName, ALLOYS, type Alloy } from '../../core/reference/alloys.ts';
import { failure, success, type Result } from '../../core/result.ts';
import { parseQuantity } from '../../core/units/parse-quantity.ts';
import { isJobName, optionFailure, readCommandLine, readUnits } from './command-line.ts';
import { parseFaceList, type FacesOfPart } from './face-list.ts';

/** What the command line of `hang` says. */
export interface HangOptions {
  readonly files: readonly string[];
  /** A saved job, whose parts hang as it says. */
  readonly jobFile?: string;
  readonly units: readonly ModelUnit[];
  /** As typed; a saved part has its own, others the usual. */
  readonly up?: readonly [number, number, number];
  readonly alloy?: Alloy;
  readonly currentA?: number;
  readonly patchDiameterM: number;
  readonly masks: readonly FacesOfPart[];
  readonly search: boolean;
  readonly directions: number;
  readonly json: boolean;
}

const OPTIONS = {
  unit: { type: 'string', multiple: true },
  job: { type: 'string' },
  up: { type: 'string' },
  alloy: { type: 'string' },
  current: { type: 'string' },
  pad: { type: 'string', default: '3mm' },
  mask: { type: 'string', multiple: true },
  search: { type: 'boolean', default: false },
  directions: { type: 'string', default: '500' },
  json: { type: 'boolean', default: false },
} as const;

const LEAST_DIRECTIONS = 12;
const MOST_DIRECTIONS = 20_000;

/**
 * @param args after the verb
 * Failures: `option-unknown`, `option-invalid`, `option-count`, `unit-unknown`, `alloy-unknown`, `faces-invalid`, `file-missing`.
 */
export function parseHangOptions(args: readonly string[]): Result<HangOptions> {
  const parsed = readCommandLine('hang', args, OPTIONS);
  if (!parsed.ok) return parsed;
  const { values, positionals } = parsed.value;
  const jobs = [...(values.job === undefined ? [] : [values.job]), ...positionals.filter(isJobName)];
  const files = positionals.filter((name) => !isJobName(name));
  const [jobFile] = jobs;
  if (jobs.length > 1) {
    return failure(
      'option-count',
      `${jobs.length} jobs are named: ${jobs.join(', ')}.`,
      'Name one job at a time; model files can be named beside it.',
    );
  }
  if (files.length === 0 && jobFile === undefined) {
    return failure(
      'file-missing',
      'No model is named.',
      'Name a model file, for example part.stl, or a saved job, plate.tankside.',
    );
  }
  const units = readUnits(values.unit ?? []);
  if (!units.ok) return units;
  const up = values.up?.split(',').map((word) => (word.trim() === '' ? NaN : Number(word)));
  if (up && (up.length !== 3 || !up.every(Number.isFinite) || !(Math.hypot(...up) > 0))) {
    return optionFailure(
      'up',
      `“${values.up}” is not a direction.`,
      'Give three numbers, not all 0: the model’s direction that points up in the bath, for example 0,0,1.',
    );
  }
  const alloy = values.alloy === undefined ? undefined : alloyByName(values.alloy);
  if (values.alloy !== undefined && !alloy) {
    return failure(
      'alloy-unknown',
      `--alloy: “${values.alloy}” is not in the table.`,
      `Use ${ALLOYS.map(({ name }) => name).join(', ')}.`,
    );
  }
  const amounts: { currentA?: number; padM?: number } = {};
  if (values.current !== undefined) {
    const current = parseQuantity('current', values.current);
    if (!current.ok) return optionFailure('current', `${current.error.message}`, current.error.remedy);
    if (!(current.value > 0)) {
      return optionFailure('current', 'it must be above 0.', 'Give the part’s current, for example 4A.');
    }
    amounts.currentA = current.value;
  }
  const pad = parseQuantity('length', values.pad);
  if (!pad.ok) return optionFailure('pad', `${pad.error.message}`, pad.error.remedy);
  if (!(pad.value > 0 && pad.value <= 0.1)) {
    return optionFailure('pad', 'it must be above 0 and up to 100 mm.', 'Give the width of the clamp’s tip.');
  }
  const directions = Number(values.directions);
  if (!(Number.isInteger(directions) && directions >= LEAST_DIRECTIONS && directions <= MOST_DIRECTIONS)) {
    return optionFailure(
      'directions',
      `“${values.directions}” is not a number of directions.`,
      `Use a whole number from ${LEAST_DIRECTIONS} to ${MOST_DIRECTIONS}.`,
    );
  }
  const masks: FacesOfPart[] = [];
  for (const text of values.mask ?? []) {
    const faces = parseFaceList(text);
    if (!faces.ok) return faces;
    masks.push(...faces.value);
  }
  return success({
    files,
    ...(jobFile === undefined ? {} : { jobFile }),
    units: units.value,
    ...(up ? { up: [up[0]!, up[1]!, up[2]!] } : {}),
    ...(alloy ? { alloy } : {}),
    ...(amounts.currentA === undefined ? {} : { currentA: amounts.currentA }),
    patchDiameterM: pad.value,
    masks,
    search: values.search,
    directions,
    json: values.json,
  });
}
