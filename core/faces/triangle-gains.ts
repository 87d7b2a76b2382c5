import type { PartGeometry } from '../mesh/part-geometry.ts';
import { edgeTurns } from './edge-turns.ts';
import type { FacetGains } from './facet-gains.ts';
import { FACE_FLAT, type FlatFacets } from './flat-facets.ts';

/** Turns that say nothing about how many facets a face has. */
export const TINY_TURN_RAD = 0.02;
/** What opens between prisms is at most so much of what lies in them: twice it for equilateral triangles on a sphere, ten times and more on a thin ring. */
export const MOST_WEDGES = 50;
/** Triangles of a face whose neighbours are asked whether they agree. */
const ASKED = 200;

/**
 * Adds to each face what its facets of one or two triangles cut off that are smooth all round, triangle by triangle: most of a fine mesh, see
 * facet-correction.ts for the scheme. A face's triangles mostly come in runs, and its sums are kept at hand as long as one lasts.
 *
 * @param gains `own`, `facetCount` and what is told of smooth edges are added to
 * @param mode per face, see flat-facets.ts
 * @returns an even choice of those triangles, and the roots of all other facets
 */
export function addTrianglesInto(
  gains: Pick<FacetGains, 'own' | 'facetCount' | 'edgeLength' | 'edgeTurn' | 'edgeTurn2'>,
  { graph, faces, positions }: PartGeometry,
  { root, size, ends }: FlatFacets,
  mode: Uint8Array,
): { readonly asked: number[]; readonly slow: number[] } {
  const { twin, triangleAreas } = graph;
  const { faceOfTriangle, triangleCount } = faces;
  const turns = edgeTurns(graph);
  const total = triangleAreas.length;
  const waits = new Uint32Array(faces.count);
  const asked: number[] = [];
  const slow: number[] = [];
  for (let t = 0; t < total;) {
    const f = faceOfTriangle[t];
    if (mode[f] === FACE_FLAT) {
      t++;
      continue;
    }
    const stride = Math.ceil(triangleCount[f] / ASKED);
    let wait = waits[f];
    let own = gains.own[f];
    let facetCount = gains.facetCount[f];
    let edgeLength = gains.edgeLength[f];
    let edgeTurn = gains.edgeTurn[f];
    let edgeTurn2 = gains.edgeTurn2[f];
    for (; t < total && faceOfTriangle[t] === f; t++) {
      const r = root[t];
      if (r === t) facetCount++;
      if (ends[r] !== 0 || size[r] > 2) {
        if (r === t) slow.push(t);
        continue;
      }
      const area = triangleAreas[t];
      // A side without length makes a collapsed triangle, whose facet ends at it.
      if (!(area > 0)) continue;
      const p = 9 * t;
      const x0 = positions[p];
      const y0 = positions[p + 1];
      const z0 = positions[p + 2];
      const x1 = positions[p + 3];
      const y1 = positions[p + 4];
      const z1 = positions[p + 5];
      const x2 = positions[p + 6];
      const y2 = positions[p + 7];
      const z2 = positions[p + 8];
      // Inside a facet there is no rise, and nothing is made of the length.
      let g0 = 0;
      let g1 = 0;
      let g2 = 0;
      let l0 = 1;
      let l1 = 1;
      let l2 = 1;
      const u0 = (twin[3 * t] / 3) | 0;
      if (root[u0] !== r) {
        const turn = turns[3 * t];
        l0 = lengthOf(x1 - x0, y1 - y0, z1 - z0);
        g0 = share(turn, area, triangleAreas[u0]);
        if (turn > TINY_TURN_RAD || turn < -TINY_TURN_RAD) {
          const weighted = l0 * Math.abs(turn);
          edgeLength += l0;
          edgeTurn += weighted;
          edgeTurn2 += weighted * Math.abs(turn);
        }
      }
      const u1 = (twin[3 * t + 1] / 3) | 0;
      if (root[u1] !== r) {
        const turn = turns[3 * t + 1];
        l1 = lengthOf(x2 - x1, y2 - y1, z2 - z1);
        g1 = share(turn, area, triangleAreas[u1]);
        if (turn > TINY_TURN_RAD || turn < -TINY_TURN_RAD) {
          const weighted = l1 * Math.abs(turn);
          edgeLength += l1;
          edgeTurn += weighted;
          edgeTurn2 += weighted * Math.abs(turn);
        }
      }
      const u2 = (twin[3 * t + 2] / 3) | 0;
      if (root[u2] !== r) {
        const turn = turns[3 * t + 2];
        l2 = lengthOf(x0 - x2, y0 - y2, z0 - z2);
        g2 = share(turn, area, triangleAreas[u2]);
        if (turn > TINY_TURN_RAD || turn < -TINY_TURN_RAD) {
          const weighted = l2 * Math.abs(turn);
          edgeLength += l2;
          edgeTurn += weighted;
          edgeTurn2 += weighted * Math.abs(turn);
        }
      }
      const squares = g0 * g0 + g1 * g1 + g2 * g2;
      // Of a facet of two triangles one side lies inside, and only the two others make a wedge.
      const wedges =
        g0 === 0
          ? g1 * g2 * (l1 / l2 + l2 / l1)
          : g1 === 0
            ? g2 * g0 * (l2 / l0 + l0 / l2)
            : g2 === 0
              ? g0 * g1 * (l0 / l1 + l1 / l0)
              : g0 * g1 * (l0 / l1 + l1 / l0) + g1 * g2 * (l1 / l2 + l2 / l1) + g2 * g0 * (l2 / l0 + l0 / l2);
      // A needle's turns are all noise: over its short side they would count for hundreds.
      const most = MOST_WEDGES * squares;
      own += (area / 6) * (squares + 2 * (wedges > most ? most : wedges < -most ? -most : wedges));
      if (wait === 0) {
        wait = stride;
        asked.push(t);
      }
      wait--;
    }
    waits[f] = wait;
    gains.own[f] = own;
    gains.facetCount[f] = facetCount;
    gains.edgeLength[f] = edgeLength;
    gains.edgeTurn[f] = edgeTurn;
    gains.edgeTurn2[f] = edgeTurn2;
  }
  return { asked, slow };
}

function lengthOf(x: number, y: number, z: number): number {
  return Math.sqrt(x * x + y * y + z * z);
}

/** A triangle's part of a turn: its own height over the edge against both, for which the areas stand. */
function share(turn: number, area: number, beyond: number): number {
  return (turn * area) / (area + beyond);
}
