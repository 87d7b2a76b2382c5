import { BorderChord } from './border-chord.ts';
import type { FacetBulges } from './facet-bulge.ts';
import type { SurfaceGraph } from './surface-graph.ts';
import type { KnownFace } from './surfaces/known-faces.ts';
import { TangentArcs } from './tangent-arcs.ts';

/** Below this sine of the angle between two surfaces they are tangent: where they meet cannot be worked out from them. */
const TANGENT_SINE = Math.sin((20 * Math.PI) / 180);

/**
 * What two faces gain (or lose) because the border between them is drawn with chords: the area between the chord and
 * the line in which the two surfaces meet, seen from either side. At a place on the chord that line is off by D, across
 * the chord; the surface on either side lies h above its facet and has the normal N there, so N₁·D = h₁ and N₂·D = h₂.
 * A flat face has h = 0. Where the two are tangent this leaves open how far D goes along their common tangent plane:
 * there the border's own turns, from chord to chord, tell.
 *
 * @param halfEdges one of each pair along the border, both sides with a triangle
 * @param curved per face 0 where it is left flat
 * @param surfaces those that are known: they tell height and normal better than their facets
 * @param gain per face, added to; model units squared
 */
export function addBorderArcsInto(
  gain: Float64Array,
  graph: SurfaceGraph,
  halfEdges: readonly number[],
  faceOfTriangle: Uint32Array,
  curved: Uint8Array,
  bulges: FacetBulges,
  surfaces?: ReadonlyMap<number, KnownFace>,
): void {
  const { twin } = graph;
  let arcs: TangentArcs | undefined;
  /** Of the chords between tangent faces: the half-edge, and what its arc takes from either side. */
  const tangent: number[] = [];
  const taken: number[] = [];
  const chord = new BorderChord(graph, faceOfTriangle, curved, bulges, surfaces);
  const { one, two } = chord;
  for (let i = 0; i < halfEdges.length; i++) {
    const h = halfEdges[i];
    if (!chord.set(h)) continue;
    const f = faceOfTriangle[(h / 3) | 0];
    const g = faceOfTriangle[(twin[h] / 3) | 0];
    const nn = one.nx * two.nx + one.ny * two.ny + one.nz * two.nz;
    const tn = one.tx * two.nx + one.ty * two.ny + one.tz * two.nz;
    const nt = one.nx * two.tx + one.ny * two.ty + one.nz * two.tz;
    const tt = one.tx * two.tx + one.ty * two.ty + one.tz * two.tz;
    let gain1 = 0;
    let gain2 = 0;
    let isTangent = false;
    // Simpson's rule over the chord.
    for (let step = 0; step < 3; step++) {
      chord.leanAt(step);
      // The second normal in the plane across the edge, along the first facet's normal and outward direction.
      const p = nn + two.lean * nt;
      const q = tn + two.lean * tt;
      const determinant = q - one.lean * p;
      const sine = determinant / Math.sqrt((1 + one.lean * one.lean) * (p * p + q * q));
      if (Math.abs(sine) < TANGENT_SINE) {
        isTangent = true;
        break;
      }
      chord.raiseAt(step);
      const d1 = (one.height * q - one.lean * two.height) / determinant;
      const d2 = (two.height - p * one.height) / determinant;
      const weight = step === 1 ? (4 * chord.length) / 6 : chord.length / 6;
      gain1 += weight * d2;
      gain2 += weight * (d1 * nt + d2 * tt);
    }
    if (isTangent) {
      arcs ??= new TangentArcs(chord, halfEdges);
      if (!arcs.lookAt(i)) continue;
      tangent.push(h);
      taken.push(arcs.one, arcs.two);
    } else {
      gain[f] += gain1;
      gain[g] += gain2;
    }
  }
  for (let i = 0; i < tangent.length; i++) {
    gain[faceOfTriangle[(tangent[i] / 3) | 0]] -= taken[2 * i];
    gain[faceOfTriangle[(twin[tangent[i]] / 3) | 0]] -= taken[2 * i + 1];
  }
}
