import { failure, success, type Result } from '../result.ts';
import { notesOnNormals, tallyNormalsInto } from './count-file-normals.ts';
import { MAX_TRIANGLES, type ModelNote } from './loaded-model.ts';
import type { StlLoaderLike } from './loader-parsers.ts';
import { STL_HEADER_BYTES, STL_TRIANGLE_BYTES } from './sniff-format.ts';

export interface BinaryStl {
  readonly positions: Float32Array<ArrayBuffer>;
  /** The 80 bytes before the count, printable characters only. */
  readonly header: string;
  readonly notes: readonly ModelNote[];
}

export function tooManyTriangles(count: number | string): {
  ok: false;
  error: { code: string; message: string; remedy: string };
} {
  return failure(
    'too-many-triangles',
    `The model has ${count} triangles; ${MAX_TRIANGLES} is the most that can be planned.`,
    'Export it again with a coarser tolerance: 0.01 mm of chord error is plenty for the area.',
  );
}

/**
 * Reads a binary STL file. The loader believes the count; here it is held against the length first. Failures:
 * `stl-truncated`, `stl-count-wrong`, `too-many-triangles`, `no-triangles` and the loader's own.
 */
export function readBinaryStl(bytes: Uint8Array, loader: StlLoaderLike): Result<BinaryStl> {
  const count = new DataView(bytes.buffer, bytes.byteOffset).getUint32(80, true);
  const soundLength = STL_HEADER_BYTES + STL_TRIANGLE_BYTES * count;
  const held = Math.floor((bytes.length - STL_HEADER_BYTES) / STL_TRIANGLE_BYTES);
  const extraBytes = bytes.length - soundLength;
  const notes: ModelNote[] = [];
  if (extraBytes < 0) {
    return failure(
      'stl-truncated',
      `The file says it has ${count} triangles but ends after ${held}: ${count - held} are missing.`,
      'The copy or download broke off, or the count is wrong: export or copy the model again.',
    );
  }
  if (extraBytes >= STL_TRIANGLE_BYTES && extraBytes % STL_TRIANGLE_BYTES === 0) {
    return failure(
      'stl-count-wrong',
      `The file says it has ${count} triangles but holds ${held}, so part of the surface would be left out.`,
      'Export the model again.',
    );
  }
  if (count > MAX_TRIANGLES) return tooManyTriangles(count);
  if (extraBytes > 0) {
    notes.push({
      code: 'stl-extra-bytes',
      level: 'check',
      message: `${extraBytes} bytes follow the last of the ${count} triangles; they were not read.`,
      remedy: 'Check that the part is whole; otherwise export it again.',
    });
  }
  let header = '';
  for (let i = 0; i < 80; i++) {
    const byte = bytes[i]!;
    header += byte >= 32 && byte < 127 ? String.fromCharCode(byte) : ' ';
  }
  // At exactly this length the loader takes the file for binary even when its header begins with "solid".
  const whole = bytes.byteOffset === 0 && bytes.buffer.byteLength === soundLength;
  const exact = whole ? (bytes.buffer as ArrayBuffer) : (bytes.slice(0, soundLength).buffer as ArrayBuffer);
  const geometry = loader.parse(exact);
  const loaded = geometry.getAttribute('position')?.array ?? [];
  const positions =
    loaded instanceof Float32Array ? (loaded as Float32Array<ArrayBuffer>) : Float32Array.from(loaded);
  const tally = { triangles: 0, missing: 0, opposed: 0 };
  tallyNormalsInto(tally, positions, geometry.getAttribute('normal')?.array ?? []);
  notes.push(...notesOnNormals(tally));
  return success({ positions, header: header.trim(), notes });
}
