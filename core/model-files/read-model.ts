import type { CadFaces } from '../faces/cad-faces.ts';
import type { ModelUnit } from '../job/job.ts';
import type { Body } from '../mesh/mesh.ts';
import { failure, success, type Result } from '../result.ts';
import { checkTriangles } from './check-triangles.ts';
import { declaredUnit } from './declared-unit.ts';
import type { LoadedModel, ModelFormat, ModelNote, ReportLoading } from './loaded-model.ts';
import type { ModelLoaders } from './loader-parsers.ts';
import { readThreeMf } from './read-3mf.ts';
import { readAsciiStl } from './read-ascii-stl.ts';
import { readBinaryStl } from './read-binary-stl.ts';
import { readObj } from './read-obj.ts';
import { readPly } from './read-ply.ts';
import { readStep } from './read-step.ts';
import { fileEnding, sniffFormat } from './sniff-format.ts';

export interface ModelFileInput {
  readonly name: string;
  readonly bytes: Uint8Array;
  readonly loaders: ModelLoaders;
  /** Called with 0 … 1, at most every few megabytes. */
  readonly onProgress?: ReportLoading;
}

const FORMAT_NAMES: Readonly<Record<ModelFormat, string>> = {
  'stl-binary': 'a binary STL file',
  'stl-ascii': 'an ASCII STL file',
  obj: 'an OBJ file',
  'ply-ascii': 'an ASCII PLY file',
  'ply-binary': 'a binary PLY file',
  '3mf': 'a 3MF file',
  step: 'a STEP file',
};
const ENDINGS: Readonly<Record<ModelFormat, readonly string[]>> = {
  'stl-binary': ['stl'],
  'stl-ascii': ['stl'],
  obj: ['obj'],
  'ply-ascii': ['ply'],
  'ply-binary': ['ply'],
  '3mf': ['3mf'],
  step: ['step', 'stp'],
};
const ALL_ENDINGS = new Set(Object.values(ENDINGS).flat());

interface Parsed {
  readonly positions: Float32Array<ArrayBuffer>;
  readonly bodies: readonly Body[];
  readonly notes: readonly ModelNote[];
  /** Text that may name the unit, where the format has no place for one. */
  readonly comment?: string;
  /** The unit as the format itself states it. */
  readonly statedUnit?: ModelUnit;
  readonly drawnIn?: ModelUnit;
  readonly cad?: CadFaces;
}

function leadingText(bytes: Uint8Array): string {
  let text = '';
  for (let at = 0; at < Math.min(bytes.length, 4096); at++) text += String.fromCharCode(bytes[at]!);
  return text;
}

function oneBody(name: string, positions: Float32Array): Body[] {
  return [{ name, firstTriangle: 0, triangleCount: Math.floor(positions.length / 9) }];
}

/** Whether `loaders.step` is needed for this file: starting the kernel takes time that other files need not wait. */
export function needsStepKernel(name: string, bytes: Uint8Array): boolean {
  const format = sniffFormat(name, bytes);
  return format.ok && format.value === 'step';
}

function parse(format: ModelFormat, { name, bytes, loaders, onProgress }: ModelFileInput): Result<Parsed> {
  const stem = name.replace(/\.[^.]*$/, '') || name || 'part';
  if (format === 'stl-binary') {
    const read = readBinaryStl(bytes, loaders.stl);
    if (!read.ok) return read;
    const { positions, header, notes } = read.value;
    return success({ positions, bodies: oneBody(stem, positions), notes, comment: header });
  }
  if (format === 'stl-ascii') {
    const read = readAsciiStl(bytes, loaders.stl, onProgress);
    if (!read.ok) return read;
    return success({ ...read.value, comment: read.value.bodies[0]?.name ?? '' });
  }
  if (format === 'ply-ascii' || format === 'ply-binary') {
    const read = readPly(bytes, loaders, onProgress);
    if (!read.ok) return read;
    const { positions, notes, comments } = read.value;
    return success({ positions, bodies: oneBody(stem, positions), notes, comment: comments.join('\n') });
  }
  if (format === '3mf') {
    const read = readThreeMf(bytes, onProgress);
    return read.ok ? success({ ...read.value, statedUnit: read.value.unit }) : read;
  }
  if (format === 'step') {
    if (!loaders.step) throw new RangeError('loaders.step: this is a STEP file, see needsStepKernel');
    const read = readStep(bytes, stem, loaders.step, onProgress);
    if (!read.ok) return read;
    return success({ ...read.value, ...(read.value.unitIsStated ? { statedUnit: 'mm' as const } : {}) });
  }
  const read = readObj(bytes, loaders, onProgress);
  if (!read.ok) return read;
  const comments = leadingText(bytes).match(/^\s*#.*$/gm) ?? [];
  return success({ ...read.value, comment: comments.join('\n') });
}

/**
 * Reads a model file: recognises it by its bytes, guards what the loader would accept silently, loads it, and checks
 * what came back. Never throws on any bytes: what is wrong with the file is the Failure (see the readers for codes;
 * `loader-failed` and `out-of-memory` for what the loader itself throws). Throws RangeError for a STEP file without
 * `loaders.step`.
 */
export function readModel(input: ModelFileInput): Result<LoadedModel> {
  const format = sniffFormat(input.name, input.bytes);
  if (!format.ok) return format;
  let parsed: Result<Parsed>;
  try {
    parsed = parse(format.value, input);
  } catch (error) {
    if (error instanceof RangeError && error.message.startsWith('loaders.')) throw error;
    const text = error instanceof Error ? error.message : String(error);
    if (/allocat|array length|string length|memory/i.test(text)) {
      return failure(
        'out-of-memory',
        `The model needs more memory than there is (${text}).`,
        'Close other programs, or export the part with a coarser tolerance.',
      );
    }
    return failure('loader-failed', `The file could not be read (${text}).`, 'Export the model again.');
  }
  if (!parsed.ok) return parsed;
  const { positions, bodies, comment, statedUnit, drawnIn, cad } = parsed.value;
  const checked = checkTriangles(positions);
  if (!checked.ok) return checked;
  const notes: ModelNote[] = [...parsed.value.notes];
  const ending = fileEnding(input.name);
  const expected = ENDINGS[format.value];
  if (ALL_ENDINGS.has(ending) && !expected.includes(ending)) {
    notes.push({
      code: 'ending-differs',
      level: 'note',
      message: `The name ends in .${ending}, but this is ${FORMAT_NAMES[format.value]} and was read as one.`,
      remedy: `Rename it to .${expected[0]} if other programs should open it.`,
    });
  }
  const unit = statedUnit ?? (comment === undefined ? undefined : declaredUnit(comment));
  input.onProgress?.(1);
  return success({
    format: format.value,
    positions,
    bodies,
    notes,
    ...(unit ? { declaredUnit: unit } : {}),
    ...(statedUnit ? { unitIsDeclared: true as const } : {}),
    ...(drawnIn ? { drawnIn } : {}),
    ...(cad ? { cad } : {}),
  });
}
