import { nextSide } from '../mesh/half-edges.ts';
import type { PartGeometry } from '../mesh/part-geometry.ts';
import { addBorderArcsInto } from './border-arcs.ts';
import { settleConesInto } from './cone-gains.ts';
import { ConeSpans } from './cone-spans.ts';
import { edgeTurns } from './edge-turns.ts';
import { FacetBulges } from './facet-bulge.ts';
import { INSIDE, SMOOTH } from './facet-chains.ts';
import { EDGE_ARC, FACE_FLAT, flatFacets } from './flat-facets.ts';
import { addTrianglesInto, TINY_TURN_RAD } from './triangle-gains.ts';

/** What the facets of each face cut off, one entry a face; model units squared. */
export interface FacetGains {
  /** Between the facets and the surface above them. */
  readonly own: Float64Array;
  /** Between the chords of the borders and their arcs; negative where the face was drawn too large. */
  readonly border: Float64Array;
  /** 1 where neighbouring facets tell of one and the same curvature, 0 where they contradict (noise, folds). */
  readonly agreement: Float64Array;
  readonly facetCount: Uint32Array;
  /** Smallest and largest facet of those that touch a border or were cut; 0 where there is none. */
  readonly leastFacet: Float64Array;
  readonly mostFacet: Float64Array;
  /** Of the smooth edges that turn by more than TINY_TURN_RAD: length, and length times turn and turn squared. */
  readonly edgeLength: Float64Array;
  readonly edgeTurn: Float64Array;
  readonly edgeTurn2: Float64Array;
  /** Length of the face's inner creases, and length times turn, turn squared. */
  readonly creaseLength: Float64Array;
  readonly creaseTurn: Float64Array;
  readonly creaseTurn2: Float64Array;
}

/** See facet-correction.ts for the scheme. `mode` a face and `known` a half-edge are those of flat-facets.ts. */
export function facetGains(geometry: PartGeometry, mode: Uint8Array, known?: Uint8Array): FacetGains {
  const { graph, faces, positions } = geometry;
  const { twin, triangleAreas } = graph;
  const turns = edgeTurns(graph);
  const { vertices, triangles } = graph.indexed;
  const { faceOfTriangle } = faces;
  const facets = flatFacets(graph, faceOfTriangle, mode, known);
  const { root, size, ends } = facets;
  const perFace = (): Float64Array => new Float64Array(faces.count);
  const [own, border, agreement] = [perFace(), perFace(), perFace()];
  const [edgeLength, edgeTurn, edgeTurn2] = [perFace(), perFace(), perFace()];
  const [creaseLength, creaseTurn, creaseTurn2] = [perFace(), perFace(), perFace()];
  const [leastFacet, mostFacet] = [perFace(), perFace()];
  const facetCount = new Uint32Array(faces.count);
  const counted = { own, facetCount, edgeLength, edgeTurn, edgeTurn2 };
  const { asked, slow } = addTrianglesInto(counted, geometry, facets, mode);
  const slope = new Float64Array(3);
  const edge = new Float64Array(3).fill(1);

  /**
   * Length of each side of a triangle between smooth facets, and how the surface rises inward at its middle. Inside a facet there is
   * no rise, and the length stays as it was: nothing is made of it.
   */
  const slopesInto = (t: number): void => {
    const area = triangleAreas[t];
    const r = root[t];
    const p = 9 * t;
    for (let k = 0; k < 3; k++) {
      const h = 3 * t + k;
      const u = (twin[h] / 3) | 0;
      if (root[u] === r) {
        slope[k] = 0;
        continue;
      }
      const a = p + 3 * k;
      const b = k === 2 ? p : a + 3;
      const ex = positions[b] - positions[a];
      const ey = positions[b + 1] - positions[a + 1];
      const ez = positions[b + 2] - positions[a + 2];
      const length = Math.sqrt(ex * ex + ey * ey + ez * ez);
      edge[k] = length;
      slope[k] = (turns[h] * area) / (area + triangleAreas[u]);
    }
  };

  const spans = new ConeSpans(graph, facets, faces, mode);
  settleConesInto(own, graph, facets, spans, faceOfTriangle);

  // Do two triangles tell the same sagitta of the edge between them? Noise would answer with 0, a fold with −1.
  const alike = perFace();
  const either = perFace();
  for (const t of asked) {
    slopesInto(t);
    const area = triangleAreas[t];
    for (let k = 0; k < 3; k++) {
      const h = 3 * t + k;
      const u = (twin[h] / 3) | 0;
      if (root[u] === root[t] || ends[root[u]] !== 0 || size[root[u]] > 2 || !(triangleAreas[u] > 0))
        continue;
      slopesInto(t);
      spans.shareInto(slope, t);
      const [i, j] = [(k + 1) % 3, (k + 2) % 3];
      const here = area * (slope[i] / edge[i] + slope[j] / edge[j]);
      slopesInto(u);
      spans.shareInto(slope, u);
      const side = twin[h] - 3 * u;
      const [m, n] = [(side + 1) % 3, (side + 2) % 3];
      const there = triangleAreas[u] * (slope[m] / edge[m] + slope[n] / edge[n]);
      const f = faceOfTriangle[t];
      alike[f] += here * there;
      either[f] += (here * here + there * there) / 2;
    }
  }
  const weight = perFace();
  for (let f = 0; f < faces.count; f++) {
    weight[f] = Math.abs(own[f]);
    agreement[f] = either[f] > 0 ? weight[f] * Math.max(0, alike[f] / either[f]) : weight[f];
  }

  if (slow.length > 0) {
    const bulges = new FacetBulges(graph, facets, slow, spans);
    const borders: number[] = [];
    for (let row = 0; row < slow.length; row++) addFacet(bulges, slow[row], row, borders);
    addBorderArcsInto(border, graph, borders, faceOfTriangle, mode, bulges);
  }
  for (let f = 0; f < faces.count; f++) agreement[f] = weight[f] > 0 ? agreement[f] / weight[f] : 1;
  return {
    own,
    border,
    agreement,
    facetCount,
    leastFacet,
    mostFacet,
    edgeLength,
    edgeTurn,
    edgeTurn2,
    creaseLength,
    creaseTurn,
    creaseTurn2,
  };

  function addFacet(bulges: FacetBulges, r: number, row: number, borders: number[]): void {
    const f = faceOfTriangle[r];
    const { at, chains } = bulges;
    const ux = bulges.frame(row, 3);
    const uy = bulges.frame(row, 4);
    const uz = bulges.frame(row, 5);
    const vx = bulges.frame(row, 6);
    const vy = bulges.frame(row, 7);
    const vz = bulges.frame(row, 8);
    const isRuled = !Number.isNaN(bulges.ruledRise[row]);
    let gain = 0;
    let area = 0;
    for (let t = r; t >= 0; t = chains.next[t]) {
      let squares = 0;
      for (let h = 3 * t; h < 3 * t + 3; h++) {
        const a = 3 * triangles[h];
        const b = 3 * triangles[nextSide(h)];
        const ax = vertices[a];
        const ay = vertices[a + 1];
        const az = vertices[a + 2];
        const ex = vertices[b] - ax;
        const ey = vertices[b + 1] - ay;
        const ez = vertices[b + 2] - az;
        if (!isRuled) {
          bulges.bulgeAt(row, ax + ex / 2, ay + ey / 2, az + ez / 2);
          squares += at[1] * at[1] + at[2] * at[2];
        }
        const other = twin[h];
        const side = chains.sideOf(h);
        if (other < 0 || side === INSIDE) continue;
        const smooth = side === SMOOTH;
        const g = faceOfTriangle[(other / 3) | 0];
        if (!smooth && (mode[g] === FACE_FLAT || h < other) && known?.[h] !== EDGE_ARC) borders.push(h);
        if (smooth || g === f) {
          const turn = Math.abs(turns[h]);
          const length = Math.sqrt(ex * ex + ey * ey + ez * ez);
          if (!smooth) {
            creaseLength[f] += length;
            creaseTurn[f] += length * turn;
            creaseTurn2[f] += length * turn * turn;
          } else if (turn > TINY_TURN_RAD) {
            edgeLength[f] += length;
            edgeTurn[f] += length * turn;
            edgeTurn2[f] += length * turn * turn;
          }
        }
        if (!smooth || isRuled) continue;
        // The wedge between the facets under a curved edge: height times slope along it, by Simpson's rule. The edge
        // turned inward, as long as it is, in the facet's own directions:
        const mu = ex * -vx + ey * -vy + ez * -vz;
        const mv = ex * ux + ey * uy + ez * uz;
        let wedge = 4 * at[0] * (at[1] * mu + at[2] * mv);
        bulges.bulgeAt(row, ax, ay, az);
        wedge += at[0] * (at[1] * mu + at[2] * mv);
        bulges.bulgeAt(row, ax + ex, ay + ey, az + ez);
        wedge += at[0] * (at[1] * mu + at[2] * mv);
        gain += wedge / 6;
      }
      gain += (triangleAreas[t] * (isRuled ? bulges.ruledRise2[row] : squares)) / 6;
      area += triangleAreas[t];
    }
    leastFacet[f] = leastFacet[f] > 0 ? Math.min(leastFacet[f], area) : area;
    mostFacet[f] = Math.max(mostFacet[f], area);
    own[f] += gain;
    const claim = (area * bulges.slope2[row]) / 3;
    weight[f] += claim;
    agreement[f] += claim * bulges.agreement[row];
  }
}
