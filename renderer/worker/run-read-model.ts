import { OBJLoader, PLYLoader, STLLoader } from 'three-stdlib';
import { partSurfaceSchema } from '../../core/job/job-surface.ts';
import type { ModelLoaders } from '../../core/model-files/loader-parsers.ts';
import type { StepKernel } from '../../core/model-files/step-kernel.ts';
import { needsStepKernel, readModel } from '../../core/model-files/read-model.ts';
import { failure, success } from '../../core/result.ts';
import type { JobRunners } from './jobs.ts';
import { cutPolygon } from './cut-polygon.ts';
import { makePart } from './make-part.ts';
import { readContent } from './read-content.ts';
import { startStepKernel } from './start-step-kernel.ts';

/** Shares of the whole job's time, from a million-triangle binary STL: reading, parsing, measuring. */
const READ_END = 0.15;
const PARSE_END = 0.35;
/** A STEP file's time goes into the kernel; what is left to do after it is small. */
const STEP_END = 0.9;

const loaders: ModelLoaders = {
  stl: new STLLoader(),
  obj: new OBJLoader(),
  ply: new PLYLoader(),
  cutPolygon,
};

/** Reads a model file, checks it, measures it and splits it into faces. */
export const runReadModel: JobRunners['readModel'] = async (
  { name, content, splitAngleRad, surface = partSurfaceSchema.parse({}) },
  report,
) => {
  const file = await readContent(name, content, (bytesRead, bytesTotal) =>
    report({
      phase: 'reading',
      fraction: bytesTotal ? (bytesRead / bytesTotal) * READ_END : null,
      bytesRead,
      ...(bytesTotal === null ? {} : { bytesTotal }),
    }),
  );
  if (!file.ok) return file;
  const bytes = file.value;
  let step: StepKernel | undefined;
  if (needsStepKernel(name, bytes)) {
    report({ phase: 'starting the CAD kernel', fraction: READ_END });
    try {
      step = await startStepKernel();
    } catch (error) {
      const reason = error instanceof Error ? error.message : String(error);
      return failure(
        'step-kernel-missing',
        `The CAD kernel that reads STEP files could not be started (${reason}).`,
        'Close other programs to free memory and try again, or export the part as STL.',
      );
    }
  }
  const parseEnd = step ? STEP_END : PARSE_END;
  report({ phase: 'taking the file apart', fraction: READ_END });
  const model = readModel({
    name,
    bytes,
    loaders: step ? { ...loaders, step } : loaders,
    onProgress: (fraction, phase = 'taking the file apart') =>
      report({ phase, fraction: READ_END + fraction * (parseEnd - READ_END) }),
  });
  if (!model.ok) return model;
  const { positions, bodies, format, declaredUnit, unitIsDeclared, cad, notes } = model.value;
  const source = { positions, bodies, ...(cad ? { cad } : {}) };
  const made = await makePart(source, { splitAngleRad, surface }, report, parseEnd);
  if (!made.ok) return made;
  return success({
    ...made.value,
    bytes,
    format,
    declaredUnit: declaredUnit ?? null,
    unitIsDeclared: unitIsDeclared ?? false,
    notes,
  });
};
