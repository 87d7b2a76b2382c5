import { basename } from 'node:path';
import { COVERAGE_BITS, coverageFlags } from '../../core/faces/coverage-flags.ts';
import { runsOfFaces } from '../../core/faces/runs-of-faces.ts';
import { flagRunsInto, runsWhere } from '../../core/faces/triangle-runs.ts';
import { unpackJob, type OpenedJob } from '../../core/job/container.ts';
import { fileOf } from '../../core/job/part-source.ts';
import { newPart } from '../../core/job/default-job.ts';
import type { ModelUnit, Part } from '../../core/job/job.ts';
import { measurePart, type PartMeasure } from '../../core/job/measure-part.ts';
import { analysePart } from '../../core/mesh/analyse-part.ts';
import type { PartGeometry } from '../../core/mesh/part-geometry.ts';
import type { LoadedModel, ModelNote } from '../../core/model-files/loaded-model.ts';
import { proposeUnit, type UnitProposal } from '../../core/model-files/propose-unit.ts';
import { needsStepKernel, readModel } from '../../core/model-files/read-model.ts';
import { failure, type Failure, type Result } from '../../core/result.ts';
import { rowsForPart } from './face-list.ts';
import { modelLoaders } from './model-loaders.ts';
import type { PlanOptions } from './plan-options.ts';
import { readFileBytes } from './read-file.ts';
import { startStepKernel } from './start-step-kernel.ts';

/** One part, read and measured. */
export interface GatheredPart {
  /** As named on the command line, or the model's name inside the job. */
  readonly file: string;
  readonly fromJob: boolean;
  readonly part: Part;
  readonly model: Omit<LoadedModel, 'positions'>;
  readonly geometry: PartGeometry;
  readonly measure: PartMeasure;
}

export interface InputProblem {
  /** The file it concerns; undefined for the command line as a whole. */
  readonly about?: string;
  readonly error: Failure;
  /** For a file without a unit. */
  readonly proposal?: UnitProposal;
}

export interface Gathered {
  readonly parts: readonly GatheredPart[];
  readonly job?: OpenedJob['job'];
  /** When there are any, `parts` is not to be used. */
  readonly problems: readonly InputProblem[];
}

/** A value given once for all, or once for each. */
function nth<T>(values: readonly T[], index: number): T | undefined {
  return values.length === 1 ? values[0] : values[index];
}

function countProblem(option: string, given: number, wanted: number, what: string): InputProblem[] {
  if (given <= 1 || given === wanted) return [];
  const error = failure(
    'option-count',
    `--${option} is given ${given} times for ${wanted} ${what}.`,
    `Give it once for all, or once for each in their order.`,
  ).error;
  return [{ error }];
}

/** Adds whole faces to what the part's coverage masks already. */
function withMask(part: Part, geometry: PartGeometry, rows: readonly number[]): Part {
  if (rows.length === 0) return part;
  const flags = coverageFlags(geometry.triangleCount, part.coverage);
  flagRunsInto(flags, runsOfFaces(geometry.faces, rows), COVERAGE_BITS.mask);
  const mask = runsWhere(geometry.triangleCount, (t) => (flags[t]! & COVERAGE_BITS.mask) !== 0);
  return { ...part, coverage: { ...part.coverage, mask } };
}

async function readOne(name: string, bytes: Uint8Array): Promise<Result<LoadedModel>> {
  // A kernel for each file: what a damaged file leaves behind in it touches no other.
  const step = needsStepKernel(name, bytes) ? await startStepKernel() : undefined;
  return readModel({ name, bytes, loaders: modelLoaders(step) });
}

/** What to say where --unit and the file disagree: the word of the command line counts for a file it is meant for. */
function unitNotes(given: ModelUnit | undefined, stated: ModelUnit | undefined, takers: number): ModelNote[] {
  if (given === undefined || stated === undefined || given === stated) return [];
  const message = `The file states its unit, ${stated}, but --unit ${given} was given`;
  return [
    {
      code: 'unit-differs',
      level: 'check',
      message:
        takers > 1
          ? `${message} for all files; ${stated} was used, since the file says so.`
          : `${message}; ${given} was used.`,
      remedy:
        takers > 1
          ? 'Give --unit once for each file if the one in this file is wrong.'
          : 'Check the size above; leave --unit out to go by the file.',
    },
  ];
}

interface Source {
  readonly file: string;
  readonly fromJob: boolean;
  readonly bytes: Uint8Array;
  /** The job's own part, or undefined for a file. */
  readonly part?: Part;
}

/** Reads every file and the job's models, in order: the job's parts first, then the files. */
export async function gatherParts(options: PlanOptions): Promise<Gathered> {
  const problems: InputProblem[] = [];
  const sources: Source[] = [];
  let job: OpenedJob['job'] | undefined;
  if (options.jobFile !== undefined) {
    const about = options.jobFile;
    const bytes = await readFileBytes(about);
    const opened = bytes.ok ? unpackJob(bytes.value) : bytes;
    if (opened.ok) {
      const { models } = opened.value;
      job = opened.value.job;
      for (const part of job.parts) {
        const file = fileOf(part);
        if (!file) continue;
        sources.push({ file: file.fileName, fromJob: true, bytes: models.get(file.entry)!, part });
      }
      if (sources.length === 0 && options.files.length === 0) {
        problems.push({
          about,
          error: failure('job-without-parts', 'The job has no parts yet.', 'Name a model file as well.')
            .error,
        });
      }
    } else problems.push({ about, error: opened.error });
  }
  for (const file of options.files) {
    const bytes = await readFileBytes(file);
    if (bytes.ok) sources.push({ file, fromJob: false, bytes: bytes.value });
    else problems.push({ about: file, error: bytes.error });
  }
  // A job's own units stand, unless the job is all there is.
  const unitsAreForJob = options.files.length === 0;
  const unitTakers = unitsAreForJob ? (job?.parts.length ?? 0) : options.files.length;
  problems.push(
    ...countProblem('unit', options.units.length, unitTakers, unitsAreForJob ? 'parts' : 'files'),
  );
  const partCount = (job?.parts.length ?? 0) + options.files.length;
  problems.push(...countProblem('quantity', options.quantities.length, partCount, 'parts'));
  if (problems.length > 0) return { parts: [], job, problems };

  const models: Result<LoadedModel>[] = [];
  for (const { file, bytes } of sources) models.push(await readOne(basename(file), bytes));
  const parts: GatheredPart[] = [];
  sources.forEach(({ file, fromJob, bytes, part: own }, index) => {
    const read = models[index]!;
    if (!read.ok) {
      problems.push({ about: file, error: read.error });
      return;
    }
    const { positions, ...loaded } = read.value;
    const unitIndex = unitsAreForJob ? index : index - (job?.parts.length ?? 0);
    const stated = loaded.unitIsDeclared ? loaded.declaredUnit : undefined;
    let given: ModelUnit | undefined = fromJob && !unitsAreForJob ? undefined : nth(options.units, unitIndex);
    const model = { ...loaded, notes: [...loaded.notes, ...unitNotes(given, stated, unitTakers)] };
    // One unit for several files is for those that state none.
    if (stated !== undefined && unitTakers > 1 && options.units.length === 1) given = undefined;
    const id = own?.id ?? `p${index + 1}`;
    const unit = given ?? own?.unit ?? stated;
    let part: Part = own ?? newPart(id, basename(file), bytes.byteLength, unit ?? 'mm', unit !== undefined);
    if (given !== undefined) part = { ...part, unit: given, unitConfirmed: true };
    const quantity = nth(options.quantities, index);
    if (quantity !== undefined) part = { ...part, quantity };
    const geometry = analysePart(positions, model.bodies, {
      splitAngleRad: part.splitAngleRad,
      ...(model.cad ? { cad: model.cad } : {}),
    });
    if (unit === undefined) {
      const extents = geometry.max.map((high, axis) => high - geometry.min[axis]!) as [
        number,
        number,
        number,
      ];
      problems.push({
        about: file,
        error: failure(
          'unit-missing',
          `${model.format.replace(/-.*/, '').toUpperCase()} ${model.format === 'step' ? 'should state its unit, and this file does not' : 'carries no unit'}, so the size of this part is not known.`,
          'Choose the row with the part’s true size and give it as --unit.',
        ).error,
        proposal: proposeUnit(extents, model.declaredUnit),
      });
      return;
    }
    const rows = rowsForPart(options.masks, index + 1, sources.length, geometry.faces);
    if (!rows.ok) {
      problems.push({ about: file, error: rows.error });
      return;
    }
    part = withMask(part, geometry, rows.value);
    parts.push({ file, fromJob, part, model, geometry, measure: measurePart(part, geometry) });
  });
  return { parts, job, problems };
}
