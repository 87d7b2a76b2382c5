import type { ModelUnit } from '../../core/job/job.ts';
import { failure, success, type Result } from '../../core/result.ts';
import { parseQuantity } from '../../core/units/parse-quantity.ts';
import type { QuantityKind } from '../../core/units/unit-table.ts';
import { isJobName, optionFailure, readCommandLine, readUnits } from './command-line.ts';
import { parseFaceList, type FacesOfPart } from './face-list.ts';
import { parseThreadList, type ThreadedFaceOption } from './thread-list.ts';
import { parseVoidList, type VoidOfPart } from './void-list.ts';

/** What the command line of `plan` says; undefined where it says nothing. */
export interface PlanOptions {
  readonly files: readonly string[];
  readonly jobFile?: string;
  /** One for all files, or one a file. */
  readonly units: readonly ModelUnit[];
  /** One for all parts, or one a part. */
  readonly quantities: readonly number[];
  readonly thicknessM?: number;
  readonly currentDensityAPerM2?: number;
  readonly chargePerVolumeCPerM3?: number;
  readonly rampS?: number;
  readonly supplyCurrentLimitA?: number;
  readonly masks: readonly FacesOfPart[];
  readonly threads?: readonly ThreadedFaceOption[];
  /** Answers where the mesh is the same for a round and for flats. */
  readonly round?: readonly FacesOfPart[];
  readonly flat?: readonly FacesOfPart[];
  /** Depth of the lowest point below the level of the bath. */
  readonly waterlineM?: number;
  readonly fuse?: boolean;
  readonly fuseCurved?: boolean;
  readonly weld?: boolean;
  /** Of what is drawn without thickness. */
  readonly sheetM?: number;
  /** Voids that have a way out in the real part. */
  readonly vents: readonly VoidOfPart[];
  readonly json: boolean;
  readonly working: boolean;
  readonly allFaces: boolean;
}

const MOST_PIECES = 10_000;

const OPTIONS = {
  unit: { type: 'string', multiple: true },
  quantity: { type: 'string', multiple: true },
  thickness: { type: 'string' },
  density: { type: 'string' },
  charge: { type: 'string' },
  ramp: { type: 'string' },
  supply: { type: 'string' },
  mask: { type: 'string', multiple: true },
  threaded: { type: 'string', multiple: true },
  round: { type: 'string', multiple: true },
  flat: { type: 'string', multiple: true },
  waterline: { type: 'string' },
  fuse: { type: 'boolean', default: false },
  'fuse-curved': { type: 'boolean', default: false },
  weld: { type: 'boolean', default: false },
  sheet: { type: 'string' },
  vent: { type: 'string', multiple: true },
  job: { type: 'string' },
  json: { type: 'boolean', default: false },
  working: { type: 'boolean', default: false },
  faces: { type: 'boolean', default: false },
} as const;

function parseQuantities(texts: readonly string[]): Result<number[]> {
  const quantities: number[] = [];
  for (const text of texts.flatMap((list) => list.split(','))) {
    const count = /^\d+$/.test(text.trim()) ? Number(text) : NaN;
    if (!(count >= 1 && count <= MOST_PIECES)) {
      return optionFailure(
        'quantity',
        `“${text}” is not a number of pieces.`,
        `Use a whole number from 1 to ${MOST_PIECES}.`,
      );
    }
    quantities.push(count);
  }
  return success(quantities);
}

/** How amounts are written that must be above zero, for the advice. */
const EXAMPLES: Readonly<Record<string, string>> = {
  thickness: '25um or 1mil',
  density: '1.3A/dm2 or 12A/ft2',
  charge: '720A.min/ft2/mil',
  ramp: '5min, or 0 for none',
  supply: '10A',
  sheet: '2mm or 0.08in, as thick as the real sheet is',
  waterline: '40mm, how deep the part hangs in the bath',
};

function tooSmall(option: string, text: string, amount: number): [message: string, remedy: string] {
  return [
    amount < 0 ? `“${text}” is below zero.` : `“${text}” is nothing; it must be above zero.`,
    `Write it as ${EXAMPLES[option]!}.`,
  ];
}

function readFaces(option: string, texts: readonly string[] = []): Result<FacesOfPart[]> {
  const faces: FacesOfPart[] = [];
  for (const text of texts) {
    const listed = parseFaceList(text, option);
    if (!listed.ok) return listed;
    faces.push(...listed.value);
  }
  return success(faces);
}

/**
 * @param args after the verb
 * Failures: `option-unknown`, `option-invalid`, `option-count`, `unit-unknown`, `faces-invalid`, `threads-invalid`, `voids-invalid`,
 * `file-missing`.
 */
export function parsePlanOptions(args: readonly string[]): Result<PlanOptions> {
  const parsed = readCommandLine('plan', args, OPTIONS);
  if (!parsed.ok) return parsed;
  const { values, positionals } = parsed.value;
  const jobs = [...(values.job === undefined ? [] : [values.job]), ...positionals.filter(isJobName)];
  if (jobs.length > 1) {
    return failure(
      'option-count',
      `${jobs.length} jobs are named: ${jobs.join(', ')}.`,
      'Plan one job at a time; model files can be named beside it.',
    );
  }
  const [jobFile] = jobs;
  const files = positionals.filter((name) => !isJobName(name));
  if (files.length === 0 && jobFile === undefined) {
    return failure(
      'file-missing',
      'No model is named.',
      'Name a model file (.step, .stl, .obj, .ply, .3mf), or a job with --job FILE.',
    );
  }
  const units = readUnits(values.unit ?? []);
  if (!units.ok) return units;
  const quantities = parseQuantities(values.quantity ?? []);
  if (!quantities.ok) return quantities;

  const amounts: Record<string, number> = {};
  const kinds: readonly (readonly [keyof typeof OPTIONS, QuantityKind, string | undefined])[] = [
    ['thickness', 'length', values.thickness],
    ['density', 'currentDensity', values.density],
    ['charge', 'chargePerVolume', values.charge],
    ['ramp', 'time', values.ramp],
    ['supply', 'current', values.supply],
    ['waterline', 'length', values.waterline],
    ['sheet', 'length', values.sheet],
  ];
  for (const [option, kind, text] of kinds) {
    if (text === undefined) continue;
    // Nothing is nothing in every unit.
    const amount = option === 'ramp' && /^0+([.,]0*)?$/.test(text) ? success(0) : parseQuantity(kind, text);
    if (!amount.ok) return optionFailure(option, amount.error.message, amount.error.remedy);
    const least = option === 'ramp' ? amount.value >= 0 : amount.value > 0;
    if (!least) return optionFailure(option, ...tooSmall(option, text, amount.value));
    amounts[option] = amount.value;
  }
  const masks = readFaces('mask', values.mask);
  if (!masks.ok) return masks;
  const round = readFaces('round', values.round);
  if (!round.ok) return round;
  const flat = readFaces('flat', values.flat);
  if (!flat.ok) return flat;
  const threads: ThreadedFaceOption[] = [];
  for (const text of values.threaded ?? []) {
    const listed = parseThreadList(text);
    if (!listed.ok) return listed;
    threads.push(...listed.value);
  }
  const vents: VoidOfPart[] = [];
  for (const text of values.vent ?? []) {
    const listed = parseVoidList(text);
    if (!listed.ok) return listed;
    vents.push(...listed.value);
  }
  return success({
    files,
    jobFile,
    units: units.value,
    quantities: quantities.value,
    thicknessM: amounts['thickness'],
    currentDensityAPerM2: amounts['density'],
    chargePerVolumeCPerM3: amounts['charge'],
    rampS: amounts['ramp'],
    supplyCurrentLimitA: amounts['supply'],
    masks: masks.value,
    threads,
    round: round.value,
    flat: flat.value,
    ...(amounts['waterline'] === undefined ? {} : { waterlineM: amounts['waterline'] }),
    fuse: values.fuse || values['fuse-curved'],
    fuseCurved: values['fuse-curved'],
    weld: values.weld,
    ...(amounts['sheet'] === undefined ? {} : { sheetM: amounts['sheet'] }),
    vents,
    json: values.json,
    working: values.working,
    allFaces: values.faces,
  });
}
