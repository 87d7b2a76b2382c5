import type { Body } from '../mesh/mesh.ts';
import { failure, success, type Result } from '../result.ts';
import { checkTriangles } from './check-triangles.ts';
import { declaredUnit } from './declared-unit.ts';
import type { LoadedModel, ModelFormat, ModelNote } from './loaded-model.ts';
import type { ModelLoaders } from './loader-parsers.ts';
import { readAsciiStl } from './read-ascii-stl.ts';
import { readBinaryStl } from './read-binary-stl.ts';
import { readObj } from './read-obj.ts';
import { fileEnding, sniffFormat } from './sniff-format.ts';

export interface ModelFileInput {
  readonly name: string;
  readonly bytes: Uint8Array;
  readonly loaders: ModelLoaders;
  /** Called with 0 … 1, at most every few megabytes. */
  readonly onProgress?: (fraction: number) => void;
}

const FORMAT_NAMES: Readonly<Record<ModelFormat, string>> = {
  'stl-binary': 'a binary STL file',
  'stl-ascii': 'an ASCII STL file',
  obj: 'an OBJ file',
};

interface Parsed {
  readonly positions: Float32Array<ArrayBuffer>;
  readonly bodies: readonly Body[];
  readonly notes: readonly ModelNote[];
  readonly comment: string;
}

function leadingText(bytes: Uint8Array): string {
  let text = '';
  for (let at = 0; at < Math.min(bytes.length, 4096); at++) text += String.fromCharCode(bytes[at]!);
  return text;
}

function parse(format: ModelFormat, { name, bytes, loaders, onProgress }: ModelFileInput): Result<Parsed> {
  if (format === 'stl-binary') {
    const read = readBinaryStl(bytes, loaders.stl);
    if (!read.ok) return read;
    const { positions, header, notes } = read.value;
    const stem = name.replace(/\.[^.]*$/, '') || name || 'part';
    const bodies = [{ name: stem, firstTriangle: 0, triangleCount: Math.floor(positions.length / 9) }];
    return success({ positions, bodies, notes, comment: header });
  }
  if (format === 'stl-ascii') {
    const read = readAsciiStl(bytes, loaders.stl, onProgress);
    if (!read.ok) return read;
    return success({ ...read.value, comment: read.value.bodies[0]?.name ?? '' });
  }
  const read = readObj(bytes, loaders, onProgress);
  if (!read.ok) return read;
  const comments = leadingText(bytes).match(/^\s*#.*$/gm) ?? [];
  return success({ ...read.value, comment: comments.join('\n') });
}

/**
 * Reads a model file: recognises it by its bytes, guards what the loader would accept silently, loads it, and checks
 * what came back. Never throws on any bytes: what is wrong with the file is the Failure (see the readers for codes;
 * `loader-failed` and `out-of-memory` for what the loader itself throws).
 */
export function readModel(input: ModelFileInput): Result<LoadedModel> {
  const format = sniffFormat(input.name, input.bytes);
  if (!format.ok) return format;
  let parsed: Result<Parsed>;
  try {
    parsed = parse(format.value, input);
  } catch (error) {
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
  const { positions, bodies, comment } = parsed.value;
  const checked = checkTriangles(positions);
  if (!checked.ok) return checked;
  const notes: ModelNote[] = [...parsed.value.notes];
  const ending = fileEnding(input.name);
  const expected = format.value === 'obj' ? 'obj' : 'stl';
  if ((ending === 'stl' || ending === 'obj') && ending !== expected) {
    notes.push({
      code: 'ending-differs',
      level: 'note',
      message: `The name ends in .${ending}, but this is ${FORMAT_NAMES[format.value]} and was read as one.`,
      remedy: `Rename it to .${expected} if other programs should open it.`,
    });
  }
  const unit = declaredUnit(comment);
  input.onProgress?.(1);
  return success({ format: format.value, positions, bodies, notes, ...(unit ? { declaredUnit: unit } : {}) });
}
