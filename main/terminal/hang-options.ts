import { parseArgs } from 'node:util';
import { MODEL_UNITS, type ModelUnit } from '../../core/job/job.ts';
import { alloyByName, ALLOYS, type Alloy } from '../../core/reference/alloys.ts';
import { failure, success, type Result } from '../../core/result.ts';
import { parseQuantity } from '../../core/units/parse-quantity.ts';
import { parseFaceList, type FacesOfPart } from './face-list.ts';

/** What the command line of `hang` says. */
export interface HangOptions {
  readonly files: readonly string[];
  readonly units: readonly ModelUnit[];
  readonly up: readonly [number, number, number];
  readonly alloy: Alloy;
  readonly currentA?: number;
  readonly patchDiameterM: number;
  readonly masks: readonly FacesOfPart[];
  readonly search: boolean;
  readonly directions: number;
  readonly json: boolean;
}

const OPTIONS = {
  unit: { type: 'string', multiple: true },
  up: { type: 'string', default: '0,0,1' },
  alloy: { type: 'string', default: '6061' },
  current: { type: 'string' },
  pad: { type: 'string', default: '3mm' },
  mask: { type: 'string', multiple: true },
  search: { type: 'boolean', default: false },
  directions: { type: 'string', default: '500' },
  json: { type: 'boolean', default: false },
} as const;

const LEAST_DIRECTIONS = 12;
const MOST_DIRECTIONS = 20_000;

/** parseArgs takes "-1,0,0" after --up for another option; joined by "=" it is the value that was meant. */
function joinSigned(args: readonly string[]): string[] {
  const joined: string[] = [];
  for (let i = 0; i < args.length; i++) {
    const next = args[i + 1];
    if (args[i] === '--up' && next !== undefined && /^-[\d.]/.test(next)) {
      joined.push(`--up=${next}`);
      i++;
    } else joined.push(args[i]!);
  }
  return joined;
}

/**
 * @param args after the verb
 * Failures: `option-unknown`, `option-invalid`, `unit-unknown`, `alloy-unknown`, `faces-invalid`, `file-missing`.
 */
export function parseHangOptions(args: readonly string[]): Result<HangOptions> {
  let parsed;
  try {
    parsed = parseArgs({ args: joinSigned(args), options: OPTIONS, allowPositionals: true });
  } catch (cause) {
    const text = (cause instanceof Error ? cause.message : String(cause))
      .split(/\.\s|\n/)[0]!
      .replace(/\.$/, '');
    return failure('option-unknown', `${text}.`, 'See tankside hang --help for the options there are.');
  }
  const { values, positionals } = parsed;
  if (positionals.length === 0) {
    return failure('file-missing', 'No model is named.', 'Name a model file, for example part.stl.');
  }
  const units: ModelUnit[] = [];
  for (const text of (values.unit ?? []).flatMap((list) => list.split(','))) {
    const unit = MODEL_UNITS.find((candidate) => candidate === text.trim().toLowerCase());
    if (!unit) {
      return failure(
        'unit-unknown',
        `--unit: “${text}” is not a unit of a model.`,
        `Use ${MODEL_UNITS.join(', ')}.`,
      );
    }
    units.push(unit);
  }
  const up = values.up.split(',').map((word) => (word.trim() === '' ? NaN : Number(word)));
  if (up.length !== 3 || !up.every(Number.isFinite) || !(Math.hypot(...up) > 0)) {
    return failure(
      'option-invalid',
      `--up: “${values.up}” is not a direction.`,
      'Give three numbers, not all 0: the model’s direction that points up in the bath, for example 0,0,1.',
    );
  }
  const alloy = alloyByName(values.alloy);
  if (!alloy) {
    return failure(
      'alloy-unknown',
      `--alloy: “${values.alloy}” is not in the table.`,
      `Use ${ALLOYS.map(({ name }) => name).join(', ')}.`,
    );
  }
  const amounts: { currentA?: number; padM?: number } = {};
  if (values.current !== undefined) {
    const current = parseQuantity('current', values.current);
    if (!current.ok)
      return failure('option-invalid', `--current: ${current.error.message}`, current.error.remedy);
    if (!(current.value > 0)) {
      return failure(
        'option-invalid',
        '--current: it must be above 0.',
        'Give the part’s current, for example 4A.',
      );
    }
    amounts.currentA = current.value;
  }
  const pad = parseQuantity('length', values.pad);
  if (!pad.ok) return failure('option-invalid', `--pad: ${pad.error.message}`, pad.error.remedy);
  if (!(pad.value > 0 && pad.value <= 0.1)) {
    return failure(
      'option-invalid',
      '--pad: it must be above 0 and up to 100 mm.',
      'Give the width of the clamp’s tip.',
    );
  }
  const directions = Number(values.directions);
  if (!(Number.isInteger(directions) && directions >= LEAST_DIRECTIONS && directions <= MOST_DIRECTIONS)) {
    return failure(
      'option-invalid',
      `--directions: “${values.directions}” is not a number of directions.`,
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
    files: positionals,
    units,
    up: [up[0]!, up[1]!, up[2]!],
    alloy,
    ...(amounts.currentA === undefined ? {} : { currentA: amounts.currentA }),
    patchDiameterM: pad.value,
    masks,
    search: values.search,
    directions,
    json: values.json,
  });
}
