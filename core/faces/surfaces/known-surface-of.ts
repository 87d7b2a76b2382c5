import { nextSide } from '../../mesh/half-edges.ts';
import { FACE_KINDS, type FaceTable } from '../face-table.ts';
import { leastSquares } from '../least-squares.ts';
import type { SurfaceGraph } from '../surface-graph.ts';
import { Axial } from './axial.ts';
import { ConeSurface } from './cone-surface.ts';
import { CylinderSurface } from './cylinder-surface.ts';
import type { KnownSurface, Point } from './known-surface.ts';
import { SphereSurface } from './sphere-surface.ts';
import { TorusSurface } from './torus-surface.ts';

/** Corners may be off the surface by this share of the depth of its facets, or by so many steps of the coordinates. */
const OFF_SHARE = 0.03;
const NOISE_STEPS = 4;
/** Cosine of what the surface may turn by from corner to corner: 35°, beyond which sides are meant as they are. */
const LEAST_COSINE = Math.cos((35 * Math.PI) / 180);
/** Of a face's area this share must lie in triangles that span more than so much of what the widest does: else the widest is a flat on a round. */
const WIDE = 0.6;
const WIDE_SHARE = 0.25;

/** A surface that a face's corners lie on, and by how much they and its triangles' middles are off it at most, model units. */
export interface Known {
  readonly surface: KnownSurface;
  readonly off: number;
  readonly depth: number;
}

/**
 * The surface of which a face is drawn, or undefined where it is a plane or free, or where its corners are off it: cut into facets by another
 * body, or rounded.
 *
 * @param triangles all of the face
 */
export function knownSurfaceOf(
  graph: SurfaceGraph,
  faces: FaceTable,
  row: number,
  triangles: ArrayLike<number>,
): Known | undefined {
  const surface = fitted(graph, faces, row, triangles);
  if (!surface) return undefined;
  const { vertices, triangles: corners } = graph.indexed;
  const at = (h: number): Point => vertices.subarray(3 * corners[h], 3 * corners[h] + 3);
  const normals = [new Float64Array(3), new Float64Array(3), new Float64Array(3)];
  let [off, depth, widest, total] = [0, 0, 1, 0];
  const spans = new Float64Array(triangles.length);
  for (let i = 0; i < triangles.length; i++) {
    const h = 3 * triangles[i];
    for (let k = 0; k < 3; k++) {
      off = Math.max(off, Math.abs(surface.off(at(h + k))));
      surface.normalInto(normals[k], at(h + k));
    }
    depth = Math.max(depth, Math.abs(surface.off(middleOf(graph, triangles[i]))));
    let cosine = 1;
    for (let k = 0; k < 3; k++) {
      const [n, m] = [normals[k], normals[(k + 1) % 3]];
      cosine = Math.min(cosine, n[0] * m[0] + n[1] * m[1] + n[2] * m[2]);
    }
    if (cosine < LEAST_COSINE) return undefined;
    spans[i] = cosine;
    widest = Math.min(widest, cosine);
    total += graph.triangleAreas[triangles[i]];
  }
  if (!(off < Math.max(OFF_SHARE * depth, NOISE_STEPS * graph.noise)) || !(depth > off)) return undefined;
  const wide = Math.cos(WIDE * Math.acos(widest));
  let wideArea = 0;
  for (let i = 0; i < triangles.length; i++)
    if (spans[i] < wide) wideArea += graph.triangleAreas[triangles[i]];
  return wideArea > WIDE_SHARE * total ? { surface, off, depth } : undefined;
}

export function middleOf({ indexed }: Pick<SurfaceGraph, 'indexed'>, t: number): Float64Array {
  const { vertices, triangles } = indexed;
  const middle = new Float64Array(3);
  for (let h = 3 * t; h < 3 * t + 3; h++) {
    for (let k = 0; k < 3; k++) middle[k] += vertices[3 * triangles[h] + k] / 3;
  }
  return middle;
}

/** Radii anew from all corners, about the axis and centre that were found. */
function fitted(
  { indexed }: SurfaceGraph,
  { kind, axis, point }: FaceTable,
  row: number,
  triangles: ArrayLike<number>,
): KnownSurface | undefined {
  const { vertices, triangles: corners } = indexed;
  const centre = point.slice(3 * row, 3 * row + 3);
  const along = axis.slice(3 * row, 3 * row + 3);
  const name = FACE_KINDS[kind[row]];
  if (name === 'plane' || name === 'free') return undefined;
  const each = (visit: (p: Point) => void): void => {
    for (let i = 0; i < triangles.length; i++) {
      for (let h = 3 * triangles[i]; h < 3 * triangles[i] + 3; h++)
        visit(vertices.subarray(3 * corners[h], 3 * corners[h] + 3));
    }
  };
  const count = 3 * triangles.length;
  if (name === 'sphere') {
    let radius = 0;
    each((p) => (radius += Math.hypot(p[0] - centre[0], p[1] - centre[1], p[2] - centre[2]) / count));
    return new SphereSurface(centre, radius);
  }
  const axial = new Axial(centre, along);
  if (name === 'cylinder') {
    let radius = 0;
    each((p) => (radius += axial.radius(p) / count));
    return new CylinderSurface(axial, radius);
  }
  if (name === 'cone') {
    const [base, slope] = leastSquares(2, (add) => each((p) => add([1, axial.height(p)], axial.radius(p))));
    if (!(Math.abs(slope) > 1e-6)) return undefined;
    const tip = centre.map((value, k) => value - (base / slope) * axial.axis[k]);
    return new ConeSurface(
      new Axial(
        tip,
        axial.axis.map((value) => value * Math.sign(slope)),
      ),
      Math.atan(Math.abs(slope)),
    );
  }
  // r² + z² = 2 R r + q² − R²
  const [twice, rest] = leastSquares(2, (add) =>
    each((p) => {
      const [r, z] = [axial.radius(p), axial.height(p)];
      add([r, 1], r * r + z * z);
    }),
  );
  const pipe2 = rest + (twice * twice) / 4;
  return twice > 0 && pipe2 > 0 ? new TorusSurface(axial, twice / 2, Math.sqrt(pipe2)) : undefined;
}

/** Half-edges of a triangle, from corner to corner. */
export function cornersOf({ indexed }: Pick<SurfaceGraph, 'indexed'>, h: number): readonly [Point, Point] {
  const { vertices, triangles } = indexed;
  const [a, b] = [3 * triangles[h], 3 * triangles[nextSide(h)]];
  return [vertices.subarray(a, a + 3), vertices.subarray(b, b + 3)];
}
