import { DEFAULT_SPLIT_ANGLE_RAD } from '../faces/split-faces.ts';
import { CHARGE_CONSTANT_DEFAULT } from '../reference/charge-constant.ts';
import { unitBySymbol } from '../units/find-unit.ts';
import { bathSchema } from './job-bath.ts';
import type { CadFacePrints } from './job-cad-faces.ts';
import { fieldSchema } from './job-field.ts';
import { finishSchema, partStripsSchema } from './job-finish.ts';
import { attitudeSchema, hangingRulesSchema } from './job-hanging.ts';
import type { UnitSystem } from '../units/unit-table.ts';
import { JOB_FORMAT, JOB_VERSION, type Job, type ModelUnit, type Part, type Process } from './job.ts';
import { partSurfaceSchema } from './job-surface.ts';
import type { PartSource } from './part-source.ts';

/** One mil at 12 A/ft²: a usual dyed decorative run, about an hour. */
export const DEFAULT_PROCESS: Process = {
  thicknessM: 25.4e-6,
  currentDensityAPerM2: 12 * unitBySymbol('currentDensity', 'A/ft²').toSi,
  chargePerVolumeCPerM3: CHARGE_CONSTANT_DEFAULT.chargePerVolumeCPerM3,
  rampS: 300,
  supplyCurrentLimitA: null,
  supplyVoltageLimitV: null,
};

/** The same run in numbers of the reader's units: 25 µm at 1.3 A/dm² where they are metric. */
const ROUND_IN: Readonly<Record<UnitSystem, Partial<Process>>> = {
  us: {},
  metric: { thicknessM: 25e-6, currentDensityAPerM2: 130 },
};

export function emptyJob(name: string, system: UnitSystem = 'us'): Job {
  return {
    format: JOB_FORMAT,
    version: JOB_VERSION,
    name,
    note: '',
    parts: [],
    process: { ...DEFAULT_PROCESS, ...ROUND_IN[system] },
    bath: bathSchema.parse({}),
    finish: finishSchema.parse({}),
    hanging: hangingRulesSchema.parse({}),
    tank: null,
    placements: [],
    otherLoads: [],
    field: fieldSchema.parse({}),
  };
}

/**
 * A part as it stands right after its file was read: everything to be coated, nothing clamped yet.
 * @param id unique in the job; made by the caller, since core has no randomness
 * @param triangleCount that the file was read into, by which it is known whether it is read the same next time
 * @param cadFaces of a CAD file, by which what is said of them is found again
 */
export function newPart(
  id: string,
  fileName: string,
  byteLength: number,
  unit: ModelUnit,
  unitConfirmed: boolean,
  triangleCount?: number,
  cadFaces?: CadFacePrints,
): Part {
  const safeName = fileName.replace(/[/\\]/g, '_');
  const source = {
    kind: 'file',
    fileName,
    entry: `models/${id}-${safeName}`,
    byteLength,
    ...(triangleCount === undefined ? {} : { triangleCount }),
    ...(cadFaces === undefined ? {} : { cadFaces }),
  } as const;
  return partOf(id, fileName.replace(/\.[^.]+$/, '') || fileName, source, unit, unitConfirmed);
}

/** A part drawn or typed here: in mm, so there is no unit to confirm. */
export function newPartWithoutFile(
  id: string,
  name: string,
  source: Extract<PartSource, { kind: 'shape' | 'typed' }>,
): Part {
  return partOf(id, name, source, 'mm', true);
}

function partOf(id: string, name: string, source: PartSource, unit: ModelUnit, unitConfirmed: boolean): Part {
  return {
    id,
    name,
    source,
    unit,
    unitConfirmed,
    quantity: 1,
    splitAngleRad: DEFAULT_SPLIT_ANGLE_RAD,
    coverage: { mask: [], contact: [], show: [] },
    contacts: [],
    attitude: attitudeSchema.parse({}),
    alloy: null,
    strips: partStripsSchema.parse({}),
    filler: null,
    fits: [],
    surface: partSurfaceSchema.parse({}),
    leastFaces: [],
  };
}
