import { failure, success, type Result } from '../result.ts';
import { isBlank } from './ascii-bytes.ts';
import { GrowingBytes } from './growing-bytes.ts';
import { MAX_TRIANGLES, type ModelNote, type ReportLoading } from './loaded-model.ts';
import { cornerList, MOST_VERTICES, truncated, type PlyFailure } from './ply-elements.ts';
import type { PlyElement, PlyHeader, PlyProperty } from './ply-header.ts';
import { binaryValues, textValues } from './ply-values.ts';
import { tooManyTriangles } from './read-binary-stl.ts';

const REPORT_EVERY = 1 << 17;

/** What the walk collects; corner numbers are checked once all corners are counted. */
export interface WalkedPly {
  readonly vertices: GrowingBytes;
  /** 3 corner numbers a triangle. */
  corners: Uint32Array;
  triangles: number;
  highestCorner: number;
  shortFaces: number;
  /** Flat pairs for recutPolygonsInto. */
  readonly polygons: number[];
}

/** Walks the file's values once, from the header's end to the last. Failures: those named in read-ply.ts that tell of lists, numbers and corners. */
export function walkPly(
  bytes: Uint8Array,
  { encoding, elements, bodyStart }: PlyHeader,
  onProgress: ReportLoading,
): Result<WalkedPly & { notes: ModelNote[] }> {
  const values =
    encoding === 'ascii'
      ? textValues(bytes, bodyStart)
      : binaryValues(bytes, bodyStart, encoding === 'binary_little_endian');
  const faceCount = elements.find(({ name }) => name === 'face')!.count;
  const vertexCount = elements.find(({ name }) => name === 'vertex')!.count;
  const walked: WalkedPly = {
    vertices: new GrowingBytes(Math.min(bytes.length, vertexCount * 24 + 16)),
    corners: new Uint32Array(faceCount * 3),
    triangles: 0,
    highestCorner: 0,
    shortFaces: 0,
    polygons: [],
  };
  for (const element of elements) {
    const list = element.name === 'face' ? cornerList(element) : undefined;
    const isVertex = element.name === 'vertex';
    const order = isVertex ? [0, 0, 0] : [];
    for (let row = 0; row < element.count; row++) {
      if (row % REPORT_EVERY === 0) onProgress((0.6 * values.at) / bytes.length);
      const ends = [0, 0, 0];
      for (const property of element.properties) {
        if (property.countType === undefined) {
          if (values.next(property.type, property.bytes, false) === undefined) return stopped(element, row);
          const axis = isVertex ? ['x', 'y', 'z'].indexOf(property.name) : -1;
          if (axis >= 0) [order[axis], ends[axis]] = [values.start, values.at];
          continue;
        }
        const length = values.next(property.countType, property.countBytes, true);
        if (length === undefined) return stopped(element, row);
        const room = (bytes.length - values.at + 1) / (encoding === 'ascii' ? 2 : property.bytes);
        if (!Number.isInteger(length) || length < 0 || length > room) {
          return failure(
            'ply-list-wrong',
            `“${element.name}” ${row + 1} in the PLY file claims a list of ${length}, which is more than the file holds.`,
            'The file is damaged or was cut: export the model again.',
          );
        }
        const fault = property === list ? readFace(length, property, element, row) : skip(length, property);
        if (fault === 'ended') return stopped(element, row);
        if (fault) return fault;
      }
      if (isVertex) {
        for (let axis = 0; axis < 3; axis++) {
          walked.vertices.copy(bytes, order[axis]!, ends[axis]!);
          if (encoding === 'ascii') walked.vertices.bytes[walked.vertices.length++] = axis < 2 ? 32 : 10;
        }
      }
    }
  }
  return leftOver();

  function skip(length: number, { type, bytes: size }: PlyProperty): 'ended' | null {
    for (let i = 0; i < length; i++) if (values.next(type, size, false) === undefined) return 'ended';
    return null;
  }

  function readFace(
    length: number,
    { type, bytes: size }: PlyProperty,
    element: PlyElement,
    row: number,
  ): PlyFailure | 'ended' | null {
    if (length < 3) {
      walked.shortFaces++;
      return skip(length, { type, bytes: size, name: '', countBytes: 0 });
    }
    if (walked.triangles + length - 2 > MAX_TRIANGLES) return tooManyTriangles(`more than ${MAX_TRIANGLES}`);
    if (length > 3) walked.polygons.push(walked.triangles, length);
    const needed = (walked.triangles + length - 2) * 3;
    if (needed > walked.corners.length) {
      const larger = new Uint32Array(Math.max(needed, walked.corners.length * 2));
      larger.set(walked.corners);
      walked.corners = larger;
    }
    let first = 0;
    let before = 0;
    for (let i = 0; i < length; i++) {
      const corner = values.next(type, size, true);
      if (corner === undefined) return 'ended';
      if (!Number.isInteger(corner) || corner < 0 || corner >= MOST_VERTICES) {
        return failure(
          'ply-corner-missing',
          `“${element.name}” ${row + 1} in the PLY file uses corner ${corner}, which is none.`,
          'The file is damaged or was written wrongly: export the model again.',
        );
      }
      if (corner > walked.highestCorner) walked.highestCorner = corner;
      if (i === 0) first = corner;
      else if (i >= 2) {
        walked.corners.set([first, before, corner], walked.triangles * 3);
        walked.triangles++;
      }
      before = corner;
    }
    return null;
  }

  function stopped(element: PlyElement, row: number): PlyFailure {
    const word = values.problem();
    if (word === null) return truncated(elements);
    return failure(
      'ply-not-a-number',
      `“${element.name}” ${row + 1} in the PLY file has “${word}” where a number belongs.`,
      'The file is damaged or was written wrongly: export the model again.',
    );
  }

  function leftOver(): Result<WalkedPly & { notes: ModelNote[] }> {
    let at = values.at;
    if (encoding === 'ascii') while (at < bytes.length && isBlank(bytes[at]!)) at++;
    const extra = bytes.length - at;
    if (extra === 0) return success({ ...walked, notes: [] });
    if (encoding === 'ascii') {
      return failure(
        'ply-count-wrong',
        `The PLY file says it has ${faceCount} faces, but more follows after the last, so part of the surface may be left out.`,
        'Export the model again.',
      );
    }
    const note: ModelNote = {
      code: 'ply-extra-bytes',
      level: 'check',
      message: `${extra} bytes follow the last of the ${faceCount} faces; they were not read.`,
      remedy: 'Check that the part is whole; otherwise export it again.',
    };
    return success({ ...walked, notes: [note] });
  }
}
