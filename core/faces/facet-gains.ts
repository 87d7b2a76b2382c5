import type { PartGeometry } from '../mesh/part-geometry.ts';
import { addBorderArcsInto } from './border-arcs.ts';
import { settleConesInto } from './cone-gains.ts';
import { ConeSpans } from './cone-spans.ts';
import { edgeTurns } from './edge-turns.ts';
import { FacetAdder } from './facet-adder.ts';
import { FacetBulges } from './facet-bulge.ts';
import { FACE_FLAT, flatFacets } from './flat-facets.ts';
import { mostGain, roughGains, senselessFaces } from './rough-faces.ts';
import type { SurfaceGraph } from './surface-graph.ts';
import type { KnownFace } from './surfaces/known-faces.ts';
import { addTrianglesInto } from './triangle-gains.ts';

/** What the facets of each face cut off, one entry a face; model units squared. */
export interface FacetGains {
  /** Between the facets and the surface above them. */
  readonly own: Float64Array;
  /** Between the chords of the borders and their arcs; negative where the face was drawn too large. */
  readonly border: Float64Array;
  /** 1 where neighbouring facets tell of one and the same curvature, 0 where they contradict (noise, folds). */
  readonly agreement: Float64Array;
  /** Where a face's turns make no sense, and its gain comes of the directions of its corners: what it may gain at most, else 0. See rough-faces.ts. */
  readonly most: Float64Array;
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

/**
 * See facet-correction.ts for the scheme.
 *
 * @param mode per face and `known` per half-edge: see flat-facets.ts
 * @param surfaces of faces that are drawn of a known one: they are measured on it where they are not left flat
 */
export function facetGains(
  geometry: PartGeometry,
  mode: Uint8Array,
  known?: Uint8Array,
  surfaces?: ReadonlyMap<number, KnownFace>,
): FacetGains {
  const { graph, faces, positions } = geometry;
  const { twin, triangleAreas } = graph;
  const turns = edgeTurns(graph);
  const { faceOfTriangle } = faces;
  const facets = flatFacets(graph, faceOfTriangle, mode, known);
  const { root, size, ends } = facets;
  const perFace = (): Float64Array => new Float64Array(faces.count);
  const [own, border, agreement] = [perFace(), perFace(), perFace()];
  const counted = {
    own,
    facetCount: new Uint32Array(faces.count),
    edgeLength: perFace(),
    edgeTurn: perFace(),
    edgeTurn2: perFace(),
  };
  const most = perFace();
  const seen = {
    creaseLength: perFace(),
    creaseTurn: perFace(),
    creaseTurn2: perFace(),
    leastFacet: perFace(),
    mostFacet: perFace(),
  };
  const { asked, slow } = addTrianglesInto(counted, geometry, facets, mode);
  const spans = new ConeSpans(graph, facets, faces, mode);
  settleConesInto(own, graph, facets, spans, faceOfTriangle);

  // Do two triangles tell the same sagitta of the edge between them? Noise would answer with 0, a fold with −1.
  const alike = perFace();
  const either = perFace();
  for (const t of asked) {
    const area = triangleAreas[t];
    slopesInto(here, t, -1, graph, root, turns, positions);
    spans.shareInto(here.slope, t);
    for (let k = 0; k < 3; k++) {
      const h = 3 * t + k;
      const u = (twin[h] / 3) | 0;
      if (root[u] === root[t] || ends[root[u]] !== 0 || size[root[u]] > 2 || !(triangleAreas[u] > 0))
        continue;
      const across = twin[h] - 3 * u;
      slopesInto(there, u, across, graph, root, turns, positions);
      spans.shareInto(there.slope, u);
      const own = area * besides(here, k);
      const other = triangleAreas[u] * besides(there, across);
      const f = faceOfTriangle[t];
      alike[f] += own * other;
      either[f] += (own * own + other * other) / 2;
    }
  }
  const weight = perFace();
  for (let f = 0; f < faces.count; f++) {
    weight[f] = Math.abs(own[f]);
    agreement[f] = either[f] > 0 ? weight[f] * Math.max(0, alike[f] / either[f]) : weight[f];
  }

  if (slow.length > 0) {
    const bulges = new FacetBulges(graph, facets, slow, spans);
    const sums = { ...counted, ...seen, weight, agreement };
    const adder = new FacetAdder(sums, graph, faceOfTriangle, mode, bulges, known);
    for (let row = 0; row < slow.length; row++) adder.add(slow[row], row);
    addBorderArcsInto(border, graph, adder.borders, faceOfTriangle, mode, bulges, surfaces);
    const told = { ...counted, border };
    const { rough, needles } = senselessFaces(geometry, told, mode);
    if (rough.length > 0) {
      for (const f of needles) if (mode[f] !== FACE_FLAT) rough.push(f);
      const unknown = rough.filter((f) => !surfaces?.has(f));
      roughGains(geometry, unknown).forEach((gain, f) => {
        most[f] = mostGain(geometry, told, f);
        own[f] = Math.max(-most[f], Math.min(most[f], gain));
      });
      // Nor do they tell where their borders run.
      const unsound = new Set([...unknown, ...needles]);
      const isSound = (h: number): boolean => !unsound.has(faceOfTriangle[(h / 3) | 0]);
      const sound = adder.borders.filter((h) => isSound(h) && isSound(twin[h]));
      border.fill(0);
      addBorderArcsInto(border, graph, sound, faceOfTriangle, mode, bulges, surfaces);
    }
  }
  for (let f = 0; f < faces.count; f++) agreement[f] = weight[f] > 0 ? agreement[f] / weight[f] : 1;
  for (const [f, { gain }] of surfaces ?? []) {
    if (mode[f] === FACE_FLAT) continue;
    own[f] = gain;
    agreement[f] = 1;
  }
  return { ...counted, ...seen, border, agreement, most };
}

/** Per side of a triangle its length, and how the surface rises inward at its middle. */
interface Sides {
  readonly slope: Float64Array;
  readonly edge: Float64Array;
}

/** Of the triangle at hand and its neighbour. Kept, as NO_GRAPH says of classes. */
const here: Sides = { slope: new Float64Array(3), edge: new Float64Array(3).fill(1) };
const there: Sides = { slope: new Float64Array(3), edge: new Float64Array(3).fill(1) };

/**
 * The sides of a triangle between smooth facets, but for one that nobody asks about. Inside a facet there is no rise, and nothing is made of
 * the length.
 */
function slopesInto(
  { slope, edge }: Sides,
  t: number,
  unasked: number,
  { twin, triangleAreas }: SurfaceGraph,
  root: Int32Array,
  turns: Float32Array,
  positions: Float32Array,
): void {
  const area = triangleAreas[t];
  const r = root[t];
  const p = 9 * t;
  for (let k = 0; k < 3; k++) {
    if (k === unasked) continue;
    const h = 3 * t + k;
    const u = (twin[h] / 3) | 0;
    if (root[u] === r) {
      slope[k] = 0;
      edge[k] = 1;
      continue;
    }
    const a = p + 3 * k;
    const b = k === 2 ? p : a + 3;
    const ex = positions[b] - positions[a];
    const ey = positions[b + 1] - positions[a + 1];
    const ez = positions[b + 2] - positions[a + 2];
    edge[k] = Math.sqrt(ex * ex + ey * ey + ez * ez);
    slope[k] = (turns[h] * area) / (area + triangleAreas[u]);
  }
}

/** What a triangle's two other sides than `k` rise by over their lengths. */
function besides({ slope, edge }: Sides, k: number): number {
  const i = k === 2 ? 0 : k + 1;
  const j = k === 0 ? 2 : k - 1;
  return slope[i] / edge[i] + slope[j] / edge[j];
}
