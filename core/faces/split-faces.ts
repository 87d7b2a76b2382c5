import { COLLAPSED_EDGE } from '../mesh/edge-adjacency.ts';
import { flattenSetsInto, joinSets, singleSets } from '../mesh/disjoint-sets.ts';
import { curvatureBreaks } from './curvature-breaks.ts';
import { edgeTurns } from './edge-turns.ts';
import { FLAT_RAD, type SurfaceGraph } from './surface-graph.ts';

/**
 * 35°: a cylinder drawn with 12 sides (30° a side, about the coarsest anybody exports) holds together, while the
 * flats of hexagon (60°) and octagon (45°) bar and a 45° chamfer come apart.
 */
export const DEFAULT_SPLIT_ANGLE_RAD = (35 * Math.PI) / 180;

export interface FaceSplit {
  /** Per triangle: the lowest triangle of its face. */
  readonly root: Int32Array;
  /** Half-edges (the lower of each pair) that did not join their two triangles: borders are among them. */
  readonly apart: Int32Array;
}

/**
 * Splits the surface into faces: neighbours that turn by less than the split angle belong together, except where a
 * plane or a bore meets its own fillet (see curvature-breaks.ts). Triangles without area and needles go with the
 * neighbour whose direction they borrowed; collapsed ones with any triangle at one of their corners.
 */
export function splitFaces(graph: SurfaceGraph, splitAngleRad: number): FaceSplit {
  if (!(splitAngleRad > 0 && splitAngleRad <= Math.PI)) {
    throw new RangeError(`splitAngleRad: must be above 0 and at most π, got ${splitAngleRad}`);
  }
  const { twin } = graph;
  const { triangles } = graph.indexed;
  const turns = edgeTurns(graph);

  const patch = singleSets(triangles.length / 3);
  joinWhereBelow(twin, turns, patch, Math.min(splitAngleRad, FLAT_RAD));
  flattenSetsInto(patch);
  const broken = curvatureBreaks(graph, patch, splitAngleRad);

  const apart: number[] = [];
  const root = patch.slice();
  for (let t = 0; t < patch.length; t++) {
    const own = patch[t];
    for (let h = 3 * t; h < 3 * t + 3; h++) {
      const other = twin[h];
      if (other < h) continue;
      const u = (other / 3) | 0;
      if (own === patch[u]) continue;
      if ((broken === undefined || broken[h] === 0) && Math.abs(turns[h]) < splitAngleRad) {
        joinSets(root, t, u);
      } else apart.push(h);
    }
  }
  if (broken !== undefined) {
    flattenSetsInto(root);
    joinScraps(graph, root, apart, splitAngleRad);
  }
  joinCollapsed(triangles, twin, root);
  flattenSetsInto(root);
  return { root, apart: new Int32Array(apart) };
}

/** An island smaller than this share of the face that surrounds it is a ripple in it. */
const SCRAP_SHARE = 1e-3;

/**
 * Gives back to a face what was broken out of its midst but is too small to be meant: on scanned and sculpted
 * surfaces a few triangles happen to be flat. Only for islands with one neighbour and a smooth border all round.
 */
function joinScraps(
  graph: SurfaceGraph,
  root: Int32Array,
  apart: readonly number[],
  splitAngleRad: number,
): void {
  const { twin, triangleAreas } = graph;
  const turns = edgeTurns(graph);
  /** Per face: its only neighbour so far, or itself when it has another or meets it sharply. */
  const neighbour = new Map<number, number>();
  let lastF = -1;
  let lastG = -1;
  let lastSmooth = false;
  for (const h of apart) {
    const other = twin[h];
    const f = root[(h / 3) | 0];
    const g = root[(other / 3) | 0];
    if (f === g) continue;
    const smooth = Math.abs(turns[h]) < splitAngleRad;
    // Borders come edge by edge.
    if (f === lastF && g === lastG && smooth === lastSmooth) continue;
    lastF = f;
    lastG = g;
    lastSmooth = smooth;
    neighbour.set(f, smooth && (neighbour.get(f) ?? g) === g ? g : f);
    neighbour.set(g, smooth && (neighbour.get(g) ?? f) === f ? f : g);
  }
  const islands = [...neighbour].filter(([face, around]) => around !== face);
  if (islands.length === 0) return;
  const area = new Float64Array(root.length);
  for (let t = 0; t < root.length; t++) area[root[t]] += triangleAreas[t];
  for (const [face, around] of islands) {
    if (area[face] < SCRAP_SHARE * area[around]) joinSets(root, face, around);
  }
}

function joinWhereBelow(twin: Int32Array, turns: Float32Array, parent: Int32Array, limitRad: number): void {
  for (let t = 0; t < parent.length; t++) {
    for (let h = 3 * t; h < 3 * t + 3; h++) {
      const other = twin[h];
      if (other > h && Math.abs(turns[h]) < limitRad) joinSets(parent, t, (other / 3) | 0);
    }
  }
}

/** Collapsed triangles have no neighbours across edges: each goes with a sound triangle at one of its corners. */
function joinCollapsed(triangles: Uint32Array, twin: Int32Array, parent: Int32Array): void {
  const waiting = new Map<number, number[]>();
  for (let h = 0; h < twin.length; h += 3) {
    if (twin[h] !== COLLAPSED_EDGE) continue;
    for (let k = 0; k < 3; k++) {
      const list = waiting.get(triangles[h + k]);
      if (list) list.push(h / 3);
      else waiting.set(triangles[h + k], [h / 3]);
    }
  }
  if (waiting.size === 0) return;
  const placed = new Set<number>();
  for (let h = 0; h < twin.length; h++) {
    if (twin[h] === COLLAPSED_EDGE) continue;
    for (const collapsed of waiting.get(triangles[h]) ?? []) {
      if (placed.has(collapsed)) continue;
      placed.add(collapsed);
      joinSets(parent, Math.floor(h / 3), collapsed);
    }
  }
}
