import type { PartGeometry } from '../mesh/part-geometry.ts';
import type { FacetGains } from './facet-gains.ts';
import { dot, length3, type Vec3 } from './fit-vectors.ts';
import { FACE_FLAT, FACE_SMOOTH } from './flat-facets.ts';
import { areNeedles, longestSide2 } from './needles.ts';
import type { SurfaceGraph } from './surface-graph.ts';
import { isFine } from './surfaces/looked-at.ts';
import { trianglesByFace } from './triangles-by-face.ts';

/** What facets cut off is far below this times the mean square of their turns: 5/8 of it for equilateral triangles on a sphere. */
const MOST_GAIN = 4;
/** … and what the segments along the border come to is at most this times that. */
const MOST_BORDER = 2;
/** A gain, or a loss, of so much of a face is nonsense in any mesh. */
const NONSENSE = 0.3;
const NONSENSE_LESS = 0.12;
/** A side's sagitta is at most this share of it. */
const MOST_SAGITTA = 0.15;
/** A face of so little of the part that is made of needles counts as one. */
const SMALL = 1e-2;

type Told = Pick<FacetGains, 'own' | 'border' | 'edgeLength' | 'edgeTurn2'>;

/**
 * Faces whose turns make no sense: needles on a fillet between two tubes, whose fronts lean any way they like. What they seem to cut off, or the
 * segments along their border, are more than their turns allow.
 *
 * @returns those faces, and small ones that are made of needles, if there are any
 */
export function senselessFaces(
  geometry: Pick<PartGeometry, 'graph' | 'faces'>,
  told: Told,
  mode: Uint8Array,
): { readonly rough: number[]; readonly needles: readonly number[] } {
  const { area, count } = geometry.faces;
  const suspect: number[] = [];
  const nonsense: number[] = [];
  for (let f = 0; f < count; f++) {
    if (mode[f] === FACE_FLAT || !(told.edgeLength[f] > 0)) continue;
    const most = mostGain(geometry, told, f);
    if (Math.abs(told.own[f]) > most || Math.abs(told.border[f]) > MOST_BORDER * most) suspect.push(f);
    // What the one counts beyond a border's chords the other takes off again.
    const net = told.own[f] + told.border[f];
    // One that is only tried as a round may well come to that: a hexagon's bevels.
    if (mode[f] !== FACE_SMOOTH) continue;
    if (net > NONSENSE * area[f] || net < -NONSENSE_LESS * area[f]) nonsense.push(f);
  }
  const needles = suspect.length > 0 && !isFine(geometry.faces) ? needleFaces(geometry) : [];
  // Without any needles it is the rim of a cone that is nearly a disc, or of a narrow fillet: as far off its polygon.
  const rough = needles.length > 0 ? suspect : nonsense;
  return { rough, needles };
}

/** What a face's facets cut off at most, as they turn. */
export function mostGain(
  { faces }: Pick<PartGeometry, 'faces'>,
  { edgeLength, edgeTurn2 }: Pick<Told, 'edgeLength' | 'edgeTurn2'>,
  f: number,
): number {
  return edgeLength[f] > 0 ? (MOST_GAIN * edgeTurn2[f] * faces.area[f]) / edgeLength[f] : 0;
}

/** Small faces that are made of needles. */
function needleFaces({ graph, faces }: Pick<PartGeometry, 'graph' | 'faces'>): number[] {
  const { triangleAreas } = graph;
  const total = faces.area.reduce((sum, area) => sum + area, 0);
  const long2 = new Float64Array(faces.count);
  for (let t = 0; t < triangleAreas.length; t++) {
    const f = faces.faceOfTriangle[t];
    if (faces.area[f] < SMALL * total) long2[f] += longestSide2(graph, t);
  }
  const found: number[] = [];
  for (let f = 0; f < faces.count; f++)
    if (long2[f] > 0 && areNeedles(faces.area[f], long2[f])) found.push(f);
  return found;
}

/**
 * What the facets of rough faces cut off, from the directions of their corners in place of their own: in every corner the mean of the fronts about
 * it, each by its area, in which needles count for little. A side rises over its middle by an eighth of what its ends lean apart along it; four thirds of
 * what its triangle gains when it is drawn with four.
 */
export function roughGains(
  { graph, faces }: Pick<PartGeometry, 'graph' | 'faces'>,
  rows: readonly number[],
): ReadonlyMap<number, number> {
  const found = new Map<number, number>();
  for (const [row, triangles] of trianglesByFace(faces.faceOfTriangle, rows)) {
    found.set(row, gainOf(graph, triangles));
  }
  return found;
}

function gainOf({ indexed, normals, triangleAreas }: SurfaceGraph, triangles: readonly number[]): number {
  const { vertices, triangles: corners } = indexed;
  const leans = new Map<number, [number, number, number]>();
  for (const t of triangles) {
    for (let h = 3 * t; h < 3 * t + 3; h++) {
      let lean = leans.get(corners[h]);
      if (!lean) leans.set(corners[h], (lean = [0, 0, 0]));
      for (let k = 0; k < 3; k++) lean[k] += triangleAreas[t] * normals[3 * t + k];
    }
  }
  for (const lean of leans.values()) {
    const size = length3(...lean) || 1;
    for (let k = 0; k < 3; k++) lean[k] /= size;
  }
  const at = (v: number): Vec3 => [vertices[3 * v], vertices[3 * v + 1], vertices[3 * v + 2]];
  const middle = (v: number, w: number): Vec3 => {
    const [p, q, m, n] = [at(v), at(w), leans.get(v)!, leans.get(w)!];
    const side: Vec3 = [q[0] - p[0], q[1] - p[1], q[2] - p[2]];
    const length = length3(...side);
    const rise = (dot(side, n) - dot(side, m)) / 8;
    const sagitta = Math.max(-MOST_SAGITTA * length, Math.min(MOST_SAGITTA * length, rise));
    const up = [m[0] + n[0], m[1] + n[1], m[2] + n[2]] as const;
    const size = length3(...up) || 1;
    return [0, 1, 2].map((k) => (p[k] + q[k]) / 2 + (sagitta * up[k]) / size) as unknown as Vec3;
  };
  let gain = 0;
  for (const t of triangles) {
    const [u, v, w] = [corners[3 * t], corners[3 * t + 1], corners[3 * t + 2]];
    const [a, b, c] = [at(u), at(v), at(w)];
    const [ab, bc, ca] = [middle(u, v), middle(v, w), middle(w, u)];
    const four = areaOf(a, ab, ca) + areaOf(b, bc, ab) + areaOf(c, ca, bc) + areaOf(ab, bc, ca);
    gain += (4 / 3) * (four - triangleAreas[t]);
  }
  return gain;
}

function areaOf(a: Vec3, b: Vec3, c: Vec3): number {
  const [x, y, z] = [b[0] - a[0], b[1] - a[1], b[2] - a[2]];
  const [p, q, r] = [c[0] - a[0], c[1] - a[1], c[2] - a[2]];
  return length3(y * r - z * q, z * p - x * r, x * q - y * p) / 2;
}
