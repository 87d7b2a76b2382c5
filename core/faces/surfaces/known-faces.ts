import { edgeLength } from '../../mesh/edge-length.ts';
import { nextSide } from '../../mesh/half-edges.ts';
import type { PartGeometry } from '../../mesh/part-geometry.ts';
import { CREASE_RAD } from '../flat-facets.ts';
import { edgeTurns } from '../edge-turns.ts';
import { FACE_KINDS } from '../face-table.ts';
import { trianglesByFace } from '../triangles-by-face.ts';
import type { KnownSurface } from './known-surface.ts';
import { lookedAt } from './looked-at.ts';
import { cornerInto } from './corner-points.ts';
import { knownSurfaceOf } from './known-surface-of.ts';

const PLANE = FACE_KINDS.indexOf('plane');
const FREE = FACE_KINDS.indexOf('free');

/** A face drawn of a surface that is known. */
export interface KnownFace {
  readonly surface: KnownSurface;
  /** 1 where the part lies on the side of the axis or centre, −1 in a bore. */
  readonly sign: 1 | -1;
  /** What its facets cut off, between planes through the chords of its border that stand on the surface; model units squared. */
  readonly gain: number;
  /** Half-edges between two of its triangles, where some of them are creases: both of each pair. */
  readonly inner: readonly number[];
}

const before = new WeakMap<PartGeometry['faces'], ReadonlyMap<number, KnownFace>>();

/** By row. Worked out once for a table of faces and kept as long as it is. */
export function knownFaces(geometry: PartGeometry): ReadonlyMap<number, KnownFace> {
  const { faces } = geometry;
  const known = before.get(faces);
  if (known) return known;
  const found = new Map<number, KnownFace>();
  for (const [row, triangles] of trianglesByFace(faces.faceOfTriangle, rowsLookedAt(faces))) {
    const face = knownFace(geometry, row, triangles);
    if (face) found.set(row, face);
  }
  before.set(faces, found);
  return found;
}

/** Faces of a kind, smallest first, as many as there is time for. */
function rowsLookedAt(faces: PartGeometry['faces']): number[] {
  const { count, kind, triangleCount } = faces;
  const rows: number[] = [];
  for (let f = 0; f < count; f++) if (kind[f] !== PLANE && kind[f] !== FREE) rows.push(f);
  return lookedAt(
    faces,
    rows.sort((a, b) => triangleCount[a] - triangleCount[b]),
  );
}

/** Of the triangle at hand. */
const CORNERS = [new Float64Array(3), new Float64Array(3), new Float64Array(3)] as const;

function knownFace(
  { graph, faces }: PartGeometry,
  row: number,
  triangles: readonly number[],
): KnownFace | undefined {
  const known = knownSurfaceOf(graph, faces, row, triangles);
  if (!known) return undefined;
  const { surface } = known;
  const { twin, triangleAreas } = graph;
  const { faceOfTriangle } = faces;
  const turns = edgeTurns(graph);
  let [area, flat, bows] = [0, 0, 0];
  const inner: number[] = [];
  let isCreased = false;
  for (const t of triangles) {
    for (let k = 0; k < 3; k++) cornerInto(CORNERS[k], graph, 3 * t + k);
    area += surface.areaOver(CORNERS[0], CORNERS[1], CORNERS[2]);
    flat += triangleAreas[t];
    for (let h = 3 * t; h < 3 * t + 3; h++) {
      if (twin[h] >= 0 && faceOfTriangle[(twin[h] / 3) | 0] === row) {
        inner.push(h);
        if (Math.abs(turns[h]) >= CREASE_RAD) isCreased = true;
        continue;
      }
      const bow = surface.bow(CORNERS[h - 3 * t], CORNERS[nextSide(h) - 3 * t]);
      bows += (2 / 3) * bow * edgeLength(graph.indexed, h);
    }
  }
  // Seen from outside the triangles of a bore run the other way round.
  const sign = area < 0 ? -1 : 1;
  return { surface, sign, gain: sign * (area - bows) - flat, inner: isCreased ? inner : [] };
}
