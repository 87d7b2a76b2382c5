import { basename } from 'node:path';
import { unpackJob, type OpenedJob } from '../../core/job/container.ts';
import { readAgain } from '../../core/job/read-again.ts';
import { fileOf } from '../../core/job/part-source.ts';
import { newPart } from '../../core/job/default-job.ts';
import type { ModelUnit, Part } from '../../core/job/job.ts';
import { measurePart, measureTyped, type PartMeasure } from '../../core/job/measure-part.ts';
import { withFacets } from '../../core/job/correct-facets.ts';
import { withFacetAnswer } from '../../core/job/facet-questions.ts';
import { nearBodiesGap } from '../../core/job/near-bodies.ts';
import { preparePart, type FuseReport } from '../../core/job/prepare-part.ts';
import type { RepairStep } from '../../core/mesh/apply-repairs.ts';
import type { SolidKit } from '../../core/mesh/solid-kit.ts';
import { buildShape } from '../../core/shapes/build-shape.ts';
import type { PartGeometry } from '../../core/mesh/part-geometry.ts';
import type { LoadedModel, ModelFormat, ModelNote } from '../../core/model-files/loaded-model.ts';
import { proposeUnit, type UnitProposal } from '../../core/model-files/propose-unit.ts';
import { needsStepKernel, readModel } from '../../core/model-files/read-model.ts';
import { failure, success, type Failure, type Result } from '../../core/result.ts';
import { forPart, rowsForPart, type FacesOfPart } from './face-list.ts';
import { startSolidKit } from './start-solid-kit.ts';
import type { ThreadedFaceOption } from './thread-list.ts';
import {
  countProblem,
  jobFailure,
  NO_SHEET_AT_ALL,
  NOTHING_TO_THICKEN,
  NOTHING_TO_VENT,
  threadFailure,
  unitFor,
} from './input-words.ts';
import { modelLoaders } from './model-loaders.ts';
import { withMask, withOptions, withRepairs, withThreads, type SurfaceOptions } from './part-options.ts';
import { readFileBytes } from './read-file.ts';
import { startStepKernel } from './start-step-kernel.ts';
import { withVents, type VoidOfPart } from './void-list.ts';

/** A model as read, or as drawn from a job's recipe. */
type AnyModel = Omit<LoadedModel, 'format'> & { readonly format: ModelFormat | 'drawn' };

/** One part, read and measured. */
export interface GatheredPart {
  /** As named on the command line, or the model's name inside the job. */
  readonly file: string;
  readonly fromJob: boolean;
  readonly part: Part;
  readonly model: Omit<AnyModel, 'positions'>;
  readonly geometry: PartGeometry;
  readonly measure: PartMeasure;
  /** What each repair did, those of the job first. */
  readonly repairs: readonly RepairStep[];
  readonly fuse: FuseReport | null;
  /** Why the bodies were not fused although that was asked for. */
  readonly fuseFailure: Failure | null;
}

/** A part of a job of which only the area was typed in. */
export interface TypedPart {
  readonly file: string;
  readonly typed: true;
  readonly part: Part;
  readonly measure: PartMeasure;
}

export type AnyPart = GatheredPart | TypedPart;

export function isMeshed(part: AnyPart): part is GatheredPart {
  return !('typed' in part);
}

export interface InputProblem {
  /** The file it concerns; undefined for the command line as a whole. */
  readonly about?: string;
  readonly error: Failure;
  /** For a file without a unit. */
  readonly proposal?: UnitProposal;
}

export interface Gathered {
  readonly parts: readonly AnyPart[];
  readonly job?: OpenedJob['job'];
  /** When there are any, `parts` is not to be used. */
  readonly problems: readonly InputProblem[];
}

/** A value given once for all, or once for each. */
function nth<T>(values: readonly T[], index: number): T | undefined {
  return values.length === 1 ? values[0] : values[index];
}

async function readOne(name: string, bytes: Uint8Array): Promise<Result<LoadedModel>> {
  // A kernel for each file: what a damaged file leaves behind in it touches no other.
  const step = needsStepKernel(name, bytes) ? await startStepKernel() : undefined;
  return readModel({ name, bytes, loaders: modelLoaders(step) });
}

/** What is to be read, and what the command line says of it. */
export interface GatherRequest extends SurfaceOptions {
  readonly files: readonly string[];
  readonly jobFile?: string | undefined;
  /** One for all files, or one a file. */
  readonly units?: readonly ModelUnit[];
  /** One for all parts, or one a part. */
  readonly quantities?: readonly number[];
  readonly masks?: readonly FacesOfPart[];
  readonly threads?: readonly ThreadedFaceOption[] | undefined;
  readonly round?: readonly FacesOfPart[] | undefined;
  readonly flat?: readonly FacesOfPart[] | undefined;
  readonly vents?: readonly VoidOfPart[] | undefined;
}

interface Source {
  readonly file: string;
  readonly fromJob: boolean;
  /** null for a part that was drawn or typed. */
  readonly bytes: Uint8Array | null;
  /** The job's own part, or undefined for a file. */
  readonly part?: Part;
}

/** manifold-3d, where something is to be fused or drawn. */
async function kitFor(sources: readonly Source[], options: GatherRequest): Promise<SolidKit | undefined> {
  const wanted =
    options.fuse === true ||
    sources.some(({ part }) => part?.source.kind === 'shape' || (part && part.surface.fuseGap !== null));
  return wanted ? startSolidKit() : undefined;
}

function drawnModel({ name, source }: Part, kit: SolidKit | undefined): Result<AnyModel> {
  if (source.kind !== 'shape' || !kit) {
    return failure(
      'shape-missing',
      `“${name}” has no model.`,
      'Open the job in the window and look at the part.',
    );
  }
  const drawn = buildShape(source.shape, kit);
  if (!drawn.ok) return drawn;
  const positions = drawn.value;
  const bodies = [{ name, firstTriangle: 0, triangleCount: positions.length / 9 }];
  return success({ format: 'drawn', positions, bodies, notes: [], declaredUnit: 'mm', unitIsDeclared: true });
}

/** Reads every file and the job's models, in order: the job's parts first, then the files. */
export async function gatherParts(request: GatherRequest): Promise<Gathered> {
  const options = { units: [], quantities: [], masks: [], threads: [], ...request };
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
        if (file) sources.push({ file: file.fileName, fromJob: true, bytes: models.get(file.entry)!, part });
        else sources.push({ file: part.name, fromJob: true, bytes: null, part });
      }
      if (sources.length === 0 && options.files.length === 0) {
        problems.push({
          about,
          error: failure('job-without-parts', 'The job has no parts yet.', 'Name a model file as well.')
            .error,
        });
      }
    } else problems.push({ about, error: bytes.ok ? jobFailure(opened.error) : opened.error });
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

  const kit = await kitFor(sources, options);
  const models: Result<AnyModel>[] = [];
  for (const { file, bytes, part } of sources) {
    if (bytes) models.push(await readOne(basename(file), bytes));
    else models.push(drawnModel(part!, kit));
  }
  const parts: AnyPart[] = [];
  sources.forEach(({ file, fromJob, bytes, part: own }, index) => {
    if (own?.source.kind === 'typed') {
      const quantity = nth(options.quantities, index) ?? own.quantity;
      parts.push({ file, typed: true, part: { ...own, quantity }, measure: measureTyped(own.source.areaM2) });
      return;
    }
    const read = models[index]!;
    if (!read.ok) {
      problems.push({ about: file, error: read.error });
      return;
    }
    const { positions, ...loaded } = read.value;
    const unitIndex = unitsAreForJob ? index : index - (job?.parts.length ?? 0);
    const stated = loaded.unitIsDeclared ? loaded.declaredUnit : undefined;
    const { given, notes: unitNote } = unitFor(
      fromJob && !unitsAreForJob ? undefined : nth(options.units, unitIndex),
      { stated, drawnIn: loaded.drawnIn },
      options.units.length === 1,
      unitTakers,
    );
    const id = own?.id ?? `p${index + 1}`;
    const unit = given ?? own?.unit ?? stated;
    let part: Part =
      own ?? newPart(id, basename(file), bytes?.byteLength ?? 0, unit ?? 'mm', unit !== undefined);
    if (given !== undefined) part = { ...part, unit: given, unitConfirmed: true };
    const quantity = nth(options.quantities, index);
    if (quantity !== undefined) part = { ...part, quantity };
    part = withOptions(part, options);
    const source = { positions, bodies: loaded.bodies, ...(loaded.cad ? { cad: loaded.cad } : {}) };
    const again = readAgain(part, source);
    part = again.part;
    const movedNotes: readonly ModelNote[] = again.notice ? [{ ...again.notice, level: 'check' }] : [];
    const tools = { cutPolygon: modelLoaders().cutPolygon, ...(kit ? { kit } : {}) };
    const repaired = withRepairs(part, source, options, tools.cutPolygon);
    if (!repaired.ok) {
      problems.push({ about: file, error: repaired.error });
      return;
    }
    const repairNotes = repaired.value.notes;
    part = repaired.value.part;
    let prepared = preparePart(source, part, tools);
    const near = options.fuseCurved ? nearBodiesGap(prepared.geometry.findings) : undefined;
    if (near !== undefined) {
      part = { ...part, surface: { ...part.surface, fuseGap: near } };
      prepared = preparePart(source, part, tools);
    }
    const { repairs, fuse, fuseFailure } = prepared;
    let { geometry } = prepared;
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
          `${loaded.format.replace(/-.*/, '').toUpperCase()} ${loaded.format === 'step' ? 'should state its unit, and this file does not' : 'carries no unit'}, so the size of this part is not known.`,
          'Choose the row with the part’s true size and give it as --unit.',
        ).error,
        proposal: proposeUnit(extents, loaded.declaredUnit),
      });
      return;
    }
    const vented = withVents(part, geometry, options.vents ?? [], index + 1, sources.length);
    if (!vented.ok) {
      problems.push({ about: file, error: vented.error });
      return;
    }
    if (
      options.vents?.some(({ partNumber = index + 1 }) => partNumber === index + 1) &&
      geometry.voids.length === 0
    ) {
      repairNotes.push(NOTHING_TO_VENT);
    }
    part = vented.value;
    const rows = rowsForPart(options.masks, index + 1, sources.length, geometry.faces);
    if (!rows.ok) {
      problems.push({ about: file, error: rows.error });
      return;
    }
    const threads = forPart(options.threads ?? [], 'threaded', index + 1, sources.length, geometry.faces);
    if (!threads.ok) {
      problems.push({ about: file, error: threads.error });
      return;
    }
    const isRound = forPart(options.round ?? [], 'round', index + 1, sources.length, geometry.faces);
    const isFlat = forPart(options.flat ?? [], 'flat', index + 1, sources.length, geometry.faces);
    if (!isRound.ok || !isFlat.ok) {
      const { error } = isRound.ok ? (isFlat as { readonly error: Failure }) : isRound;
      problems.push({ about: file, error });
      return;
    }
    for (const { row } of isRound.value) part = withFacetAnswer(part, geometry, row, 'round');
    for (const { row } of isFlat.value) part = withFacetAnswer(part, geometry, row, 'flat');
    if (isRound.value.length + isFlat.value.length > 0) {
      geometry = withFacets(geometry, part.surface.facetAnswers);
    }
    part = withThreads(withMask(part, geometry, rows.value), geometry, threads.value);
    const measure = measurePart(part, geometry);
    const wrongThread = measure.threads.find(({ area }) => area && !area.ok)?.area;
    if (wrongThread && !wrongThread.ok && threads.value.length > 0) {
      problems.push({ about: file, error: threadFailure(wrongThread.error, geometry) });
      return;
    }
    const model = { ...loaded, notes: [...loaded.notes, ...unitNote, ...movedNotes, ...repairNotes] };
    parts.push({ file, fromJob, part, model, geometry, measure, repairs, fuse, fuseFailure });
  });
  const noSheet = parts.every((one) => !isMeshed(one) || one.model.notes.includes(NOTHING_TO_THICKEN));
  if (options.sheetM !== undefined && problems.length === 0 && noSheet) {
    problems.push({ error: NO_SHEET_AT_ALL });
  }
  return { parts, job, problems };
}
