import { flattenSetsInto, rootOf, singleSets } from '../mesh/disjoint-sets.ts';
import { breakLoneTurnsInto } from './lone-turns.ts';
import { edgeTurns } from './edge-turns.ts';
import { FLAT_RAD, squaredChord, type SurfaceGraph } from './surface-graph.ts';
import { triangleChains } from './triangle-chains.ts';

/**
 * How a face is taken: left as its facets are; smooth up to a crease; smooth up to steep turns; or one flat of many
 * that the user calls a round, smooth over its borders with others of the kind.
 */
export const FACE_FLAT = 0;
export const FACE_SMOOTH = 1;
export const FACE_ROUND = 2;
export const FACE_PIECE = 3;

/**
 * What is known of a half-edge whatever it turns by: nothing, the surface runs on over it, it is a crease, or one whose arc is
 * known as well.
 */
export const EDGE_RUNS_ON = 1;
export const EDGE_CREASE = 2;
export const EDGE_ARC = 3;

/** Turns of this and more are creases, 35° as where faces are split: a 12-sided circle turns by 30°, an octagon by 45°. */
export const CREASE_RAD = (35 * Math.PI) / 180;
/** … of a face that the user calls round: an 8-sided or even a 4-sided drawing of a circle. */
export const ROUND_CREASE_RAD = (95 * Math.PI) / 180;

export interface FlatFacets {
  /** Per triangle: the lowest triangle of its facet. */
  readonly root: Int32Array;
  /** The triangles of each facet, see triangle-chains.ts. */
  readonly next: Int32Array;
  /** At a root: triangles of its facet, 255 for that many and more. */
  readonly size: Uint8Array;
  /** Per half-edge: 1 where the surface runs on smoothly over it, inside a facet as well. */
  readonly smooth: Uint8Array;
  /** At a root: 1 where a side of the facet does not run on smoothly into another facet. */
  readonly ends: Uint8Array;
}

/**
 * The flat facets that a mesh draws its faces with: triangles of one face in one plane, whatever way they were cut.
 * Neighbours join when they and the first triangles of their facets agree, so that a row of many tiny turns does not
 * close up to a facet that is not flat.
 *
 * @param faceOfTriangle per triangle its face
 * @param mode per face one of the four above
 * @param known per half-edge 0 or one of the two above, for those between faces that are not flat
 */
export function flatFacets(
  graph: SurfaceGraph,
  faceOfTriangle: Uint32Array,
  mode: Uint8Array,
  known?: Uint8Array,
): FlatFacets {
  const { twin, normals } = graph;
  const { triangles } = graph.indexed;
  const total = faceOfTriangle.length;
  const turns = edgeTurns(graph);
  const flat = FLAT_RAD * FLAT_RAD;
  const root = singleSets(total);
  const ends = new Uint8Array(total);
  const smooth = new Uint8Array(twin.length);
  for (let t = 0; t < total; t++) {
    const f = faceOfTriangle[t];
    const own = mode[f];
    for (let h = 3 * t; h < 3 * t + 3; h++) {
      const other = twin[h];
      if (other < 0) ends[t] = 1;
      if (other < h) continue;
      const u = (other / 3) | 0;
      const g = faceOfTriangle[u];
      if (own === FACE_FLAT || mode[g] === FACE_FLAT) {
        ends[t] = ends[u] = 1;
        continue;
      }
      const turn = Math.abs(turns[h]);
      const said = known === undefined ? 0 : known[h];
      const on = said === 0 ? runsOn(f === g, own, mode[g], turn) : said === EDGE_RUNS_ON;
      if (on) smooth[h] = smooth[other] = 1;
      // Where both run the same way one of them is turned over.
      if (turn < FLAT_RAD && f === g && triangles[h] !== triangles[other]) {
        const a = rootOf(root, t);
        const b = rootOf(root, u);
        if (a !== b && squaredChord(normals, a, b, false) < flat) {
          if (a < b) root[b] = a;
          else root[a] = b;
        }
      } else if (!on) ends[t] = ends[u] = 1;
    }
  }
  flattenSetsInto(root);
  const size = new Uint8Array(total);
  const facets: FlatFacets = { root, next: triangleChains(root), size, smooth, ends };
  breakLoneTurnsInto(facets, graph, known);
  for (let t = 0; t < total; t++) {
    const r = root[t];
    if (size[r] < 255) size[r]++;
    if (ends[t] !== 0) ends[r] = 1;
  }
  return facets;
}

/** True when the surface runs on smoothly across an edge of this turn, within a face or from one to another, taken like that. */
function runsOn(isOneFace: boolean, own: number, other: number, turnRad: number): boolean {
  if (own === FACE_PIECE && other === FACE_PIECE) return turnRad < ROUND_CREASE_RAD;
  return isOneFace && turnRad < (own === FACE_ROUND ? ROUND_CREASE_RAD : CREASE_RAD);
}
