/**
 * PLY, in text and binary. The library's loader believes every count, drops faces of more than four corners, gives
 * faces without corners that exist as NaN, and takes one line for one element. So the values are walked once here:
 * every list is held against the file's length and every corner number against the corners, places are handed on
 * untouched, faces as triangles, and nothing else (colours, normals, texture) at all. The loader then decodes that.
 */
import { failure, success, type Result } from '../result.ts';
import type { ModelNote, ReportLoading } from './loaded-model.ts';
import type { ModelLoaders } from './loader-parsers.ts';
import { plainPly } from './plain-ply.ts';
import { checkElements } from './ply-elements.ts';
import { readPlyHeader, type PlyHeader } from './ply-header.ts';
import { recutPolygonsInto } from './recut-polygons.ts';
import { walkPly } from './walk-ply.ts';

export interface PlyModel {
  readonly encoding: PlyHeader['encoding'];
  readonly positions: Float32Array<ArrayBuffer>;
  readonly comments: readonly string[];
  readonly notes: readonly ModelNote[];
}

/** The loader turns the whole file into one string; see LONGEST_TEXT in read-obj.ts. */
const LONGEST_COPY = 2 ** 29 - 65_536;

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
  const walked = walkPly(bytes, header.value, onProgress);
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
  const copy = plainPly(encoding, vertexElement, value);
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
