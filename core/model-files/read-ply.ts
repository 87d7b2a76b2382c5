/**
 * PLY, in text and binary. The library's loader believes every count, drops faces of more than four corners, gives
 * faces without corners that exist as NaN, and takes one line for one element. So the values are walked once here:
 * every list is held against the file's length and every corner number against the corners, places are handed on
 * untouched, faces as triangles, and nothing else (colours, normals, texture) at all. The loader then decodes that.
 */
import { strToU8 } from 'fflate';
import { failure, success, type Failure, type Result } from '../result.ts';
import { isBlank, isNumber, quoteWord } from './ascii-bytes.ts';
import { MAX_TRIANGLES, type ModelNote, type ReportLoading } from './loaded-model.ts';
import type { ModelLoaders } from './loader-parsers.ts';
import { readPlyHeader, type PlyElement, type PlyHeader, type PlyProperty } from './ply-header.ts';
import { tooManyTriangles } from './read-binary-stl.ts';
import { recutPolygonsInto } from './recut-polygons.ts';

export interface PlyModel {
  readonly encoding: PlyHeader['encoding'];
  readonly positions: Float32Array<ArrayBuffer>;
  readonly comments: readonly string[];
  readonly notes: readonly ModelNote[];
}

const MOST_VERTICES = 3 * MAX_TRIANGLES;
/** The loader turns the whole file into one string; see LONGEST_TEXT in read-obj.ts. */
const LONGEST_COPY = 2 ** 29 - 65_536;
const REPORT_EVERY = 1 << 17;
const CORNER_LISTS = ['vertex_indices', 'vertex_index'];

type Fail = { ok: false; error: Failure };

/** Bytes written one after the other, growing as needed. */
class Growing {
  bytes: Uint8Array<ArrayBuffer>;
  view: DataView;
  length = 0;

  constructor(size: number) {
    this.bytes = new Uint8Array(size);
    this.view = new DataView(this.bytes.buffer);
  }

  reserve(more: number): void {
    if (this.length + more <= this.bytes.length) return;
    const larger = new Uint8Array(Math.max(this.bytes.length * 2, this.length + more));
    larger.set(this.bytes.subarray(0, this.length));
    this.bytes = larger;
    this.view = new DataView(larger.buffer);
  }

  copy(from: Uint8Array, start: number, end: number): void {
    this.reserve(end - start + 1);
    for (let i = start; i < end; i++) this.bytes[this.length++] = from[i]!;
  }
}

/** What the walk collects; corner numbers are checked once all corners are counted. */
interface Walked {
  readonly vertices: Growing;
  /** 3 corner numbers a triangle. */
  corners: Uint32Array;
  triangles: number;
  highestCorner: number;
  shortFaces: number;
  /** Flat pairs for recutPolygonsInto. */
  readonly polygons: number[];
}

/** The file's values one after another; `at` and `end` bound the last one. */
interface Values {
  start: number;
  at: number;
  /** Steps over one value and gives it where `wanted`, else 0; undefined where the file ends or holds no number. */
  next(type: string, bytes: number, wanted: boolean): number | undefined;
  /** Why the last `next` gave nothing. */
  problem(): string | null;
}

function binaryValues(bytes: Uint8Array, bodyStart: number, little: boolean): Values {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const values: Values = {
    start: bodyStart,
    at: bodyStart,
    next(type, size, wanted) {
      values.start = values.at;
      if (values.at + size > bytes.length) return undefined;
      values.at += size;
      if (!wanted) return 0;
      if (size === 1) {
        return type.startsWith('u') ? view.getUint8(values.start) : view.getInt8(values.start);
      }
      if (size === 2) {
        return type.startsWith('u')
          ? view.getUint16(values.start, little)
          : view.getInt16(values.start, little);
      }
      if (size === 8) return view.getFloat64(values.start, little);
      if (type.startsWith('float')) return view.getFloat32(values.start, little);
      return type.startsWith('u')
        ? view.getUint32(values.start, little)
        : view.getInt32(values.start, little);
    },
    problem: () => null,
  };
  return values;
}

function textValues(bytes: Uint8Array, bodyStart: number): Values {
  let problem: string | null = null;
  const values: Values = {
    start: bodyStart,
    at: bodyStart,
    next(_type, _size, wanted) {
      let at = values.at;
      while (at < bytes.length && isBlank(bytes[at]!)) at++;
      values.start = at;
      while (at < bytes.length && !isBlank(bytes[at]!)) at++;
      values.at = at;
      if (values.start === at) return undefined;
      if (!isNumber(bytes, values.start, at)) {
        problem = quoteWord(bytes, values.start, at);
        return undefined;
      }
      if (!wanted) return 0;
      let text = '';
      for (let i = values.start; i < at; i++) text += String.fromCharCode(bytes[i]!);
      return Number(text);
    },
    problem: () => problem,
  };
  return values;
}

/**
 * Reads a PLY file. Failures: those of readPlyHeader, `ply-truncated`, `ply-count-wrong`, `ply-not-a-number`,
 * `ply-list-wrong`, `ply-corner-missing`, `ply-point-cloud`, `ply-strips`, `ply-property-missing`, `ply-too-long`,
 * `too-many-triangles`, `no-triangles`, `loader-disagrees`.
 */
export function readPly(
  bytes: Uint8Array,
  loaders: ModelLoaders,
  onProgress: ReportLoading = () => {},
): Result<PlyModel> {
  const header = readPlyHeader(bytes);
  if (!header.ok) return header;
  const { encoding, elements, comments } = header.value;
  const suited = checkElements(header.value, bytes.length);
  if (suited) return suited;
  const walked = walk(bytes, header.value, onProgress);
  if (!walked.ok) return walked;
  const { value } = walked;
  const vertexElement = elements.find(({ name }) => name === 'vertex')!;
  if (value.triangles === 0) {
    return failure(
      'no-triangles',
      'The PLY file holds no face of three corners or more.',
      'Export the part again as a mesh of its surface.',
    );
  }
  if (value.highestCorner >= vertexElement.count) {
    return failure(
      'ply-corner-missing',
      `A face uses corner ${value.highestCorner}, but there are ${vertexElement.count}, counted from 0.`,
      'The file is damaged or was cut: export the model again.',
    );
  }
  const copy = canonicalCopy(encoding, vertexElement, value);
  if (copy.length > LONGEST_COPY) {
    return failure(
      'ply-too-long',
      `The corners and faces fill ${Math.round(copy.length / 1e6)} MB, and ${Math.floor(LONGEST_COPY / 1e6)} MB is the most that can be read.`,
      'Export the part as binary PLY or STL, or with a coarser tolerance.',
    );
  }
  onProgress(0.6);
  const geometry = loaders.ply.parse(copy.buffer);
  const places = geometry.getAttribute('position')?.array ?? [];
  const index = geometry.getIndex()?.array ?? [];
  if (places.length !== vertexElement.count * 3 || index.length !== value.triangles * 3) {
    return failure(
      'loader-disagrees',
      `The file lists ${value.triangles} triangles, but not all of them were understood.`,
      'Export the model again, as binary STL if possible.',
    );
  }
  const positions = new Float32Array(value.triangles * 9);
  for (let i = 0; i < index.length; i++) {
    const from = index[i]! * 3;
    positions[3 * i] = places[from]!;
    positions[3 * i + 1] = places[from + 1]!;
    positions[3 * i + 2] = places[from + 2]!;
  }
  onProgress(0.95);
  const notes: ModelNote[] = [];
  if (value.shortFaces > 0) {
    notes.push({
      code: 'ply-short-faces',
      level: 'note',
      message: `${value.shortFaces} faces with fewer than three corners were left out.`,
      remedy: 'Nothing to do if the part looks right.',
    });
  }
  notes.push(
    ...walked.value.notes,
    ...recutPolygonsInto(positions, value.polygons, loaders.cutPolygon, 'ply'),
  );
  return success({ encoding, positions, comments, notes });
}

const cornerList = ({ properties }: PlyElement): PlyProperty | undefined =>
  properties.find(({ name, countType }) => countType !== undefined && CORNER_LISTS.includes(name));

/** Refuses what has no surface, and counts that cannot fit into the file, before anything is allocated. */
function checkElements({ encoding, elements, bodyStart }: PlyHeader, length: number): Fail | null {
  const [vertex, second] = elements.filter(({ name }) => name === 'vertex');
  const face = elements.find(({ name }) => name === 'face');
  if (!vertex || second) {
    return failure(
      'ply-property-missing',
      `The PLY file lists its corners ${vertex ? 'twice' : 'nowhere'}.`,
      'Export the part again as a mesh of its surface.',
    );
  }
  const axes = ['x', 'y', 'z'].filter(
    (axis) => !vertex.properties.some(({ name, countType }) => name === axis && countType === undefined),
  );
  if (axes.length > 0) {
    return failure(
      'ply-property-missing',
      `The corners in the PLY file have no ${axes.join(', ')}.`,
      'Export the model again.',
    );
  }
  if (!face || face.count === 0) {
    if (elements.some(({ name, count }) => /strip/.test(name) && count > 0)) {
      return failure(
        'ply-strips',
        'The PLY file gives its surface as triangle strips, which are not read here.',
        'Export the part as separate triangles, as PLY or binary STL.',
      );
    }
    return failure(
      'ply-point-cloud',
      `The PLY file holds ${vertex.count} points and no faces, so it has no surface.`,
      'Make a closed mesh from the points in the scanning program, and export that.',
    );
  }
  if (!cornerList(face)) {
    return failure(
      'ply-property-missing',
      'The faces in the PLY file do not say which corners they join.',
      'Export the model again.',
    );
  }
  if (vertex.count > MOST_VERTICES || face.count > MAX_TRIANGLES) {
    return tooManyTriangles(
      face.count > MAX_TRIANGLES ? face.count : `corners for more than ${MAX_TRIANGLES}`,
    );
  }
  let least = 0;
  for (const { count, properties } of elements) {
    const each = properties.reduce(
      (sum, property) =>
        sum +
        (encoding === 'ascii' ? 2 : property.countType === undefined ? property.bytes : property.countBytes),
      0,
    );
    least += count * each;
  }
  // The last word of a text needs no blank after it.
  return least > length - bodyStart + 1 ? truncated(elements) : null;
}

const truncated = (elements: readonly PlyElement[]): Fail =>
  failure(
    'ply-truncated',
    `The PLY file says it has ${elements.map(({ name, count }) => `${count} of “${name}”`).join(', ')}, but it ends before.`,
    'The copy or download broke off, or the counts are wrong: export or copy the model again.',
  );

function walk(
  bytes: Uint8Array,
  { encoding, elements, bodyStart }: PlyHeader,
  onProgress: ReportLoading,
): Result<Walked & { notes: ModelNote[] }> {
  const values =
    encoding === 'ascii'
      ? textValues(bytes, bodyStart)
      : binaryValues(bytes, bodyStart, encoding === 'binary_little_endian');
  const faceCount = elements.find(({ name }) => name === 'face')!.count;
  const vertexCount = elements.find(({ name }) => name === 'vertex')!.count;
  const walked: Walked = {
    vertices: new Growing(Math.min(bytes.length, vertexCount * 24 + 16)),
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
  ): Fail | 'ended' | null {
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

  function stopped(element: PlyElement, row: number): Fail {
    const word = values.problem();
    if (word === null) return truncated(elements);
    return failure(
      'ply-not-a-number',
      `“${element.name}” ${row + 1} in the PLY file has “${word}” where a number belongs.`,
      'The file is damaged or was written wrongly: export the model again.',
    );
  }

  function leftOver(): Result<Walked & { notes: ModelNote[] }> {
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

/** A PLY of places and triangles alone, in the file's own encoding and number types. */
function canonicalCopy(
  encoding: PlyHeader['encoding'],
  vertex: PlyElement,
  { vertices, corners, triangles }: Walked,
): Uint8Array<ArrayBuffer> {
  const types = ['x', 'y', 'z'].map(
    (axis) => `property ${vertex.properties.find(({ name }) => name === axis)!.type} ${axis}`,
  );
  const head = strToU8(
    [
      'ply',
      `format ${encoding} 1.0`,
      `element vertex ${vertex.count}`,
      ...types,
      `element face ${triangles}`,
      'property list uchar int vertex_indices',
      'end_header\n',
    ].join('\n'),
  );
  const out = new Growing(head.length + vertices.length + triangles * 13 + 16);
  out.copy(head, 0, head.length);
  out.reserve(vertices.length);
  out.bytes.set(vertices.bytes.subarray(0, vertices.length), out.length);
  out.length += vertices.length;
  const little = encoding === 'binary_little_endian';
  for (let i = 0; i < triangles * 3; i += 3) {
    if (encoding === 'ascii') {
      const line = strToU8(`3 ${corners[i]} ${corners[i + 1]} ${corners[i + 2]}\n`);
      out.copy(line, 0, line.length);
    } else {
      out.reserve(13);
      out.bytes[out.length] = 3;
      for (let k = 0; k < 3; k++) out.view.setInt32(out.length + 1 + 4 * k, corners[i + k]!, little);
      out.length += 13;
    }
  }
  return out.bytes.slice(0, out.length);
}
