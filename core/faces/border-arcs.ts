import { bulgeAt, nextSide, type FacetBulge } from './facet-bulge.ts';
import type { SurfaceGraph } from './surface-graph.ts';

/** Below this sine of the angle between two surfaces they are tangent: where they meet cannot be worked out from them. */
const TANGENT_SINE = Math.sin((20 * Math.PI) / 180);
/** A border that turns by more than this at a corner is not an arc there. */
const CORNER_RAD = (35 * Math.PI) / 180;

/**
 * What two faces gain (or lose) because the border between them is drawn with chords: the area between the chord and
 * the line in which the two surfaces meet, seen from either side. At a place on the chord that line is off by D, across
 * the chord; the surface on either side lies h above its facet and has the normal N there, so N₁·D = h₁ and N₂·D = h₂.
 * A flat face has h = 0. Where the two are tangent this leaves open how far D goes along their common tangent plane: there the
 * border's own turns, from chord to chord, tell.
 */
export function borderArcs(
  graph: SurfaceGraph,
  halfEdges: readonly number[],
  faceOfTriangle: Uint32Array,
  bulgeOf: (triangle: number) => FacetBulge | undefined,
  sagitta: (halfEdge: number, bulge: FacetBulge) => number,
  add: (face: number, gain: number) => void,
): void {
  const { twin, normals } = graph;
  const { vertices, triangles } = graph.indexed;
  const tangent: number[] = [];
  const work = new Float64Array(8);
  for (const h of halfEdges) {
    const other = twin[h];
    const t = (h / 3) | 0;
    const u = (other / 3) | 0;
    const a = 3 * triangles[h];
    const b = 3 * triangles[nextSide(h)];
    const ex = vertices[b] - vertices[a];
    const ey = vertices[b + 1] - vertices[a + 1];
    const ez = vertices[b + 2] - vertices[a + 2];
    const length = Math.sqrt(ex * ex + ey * ey + ez * ez);
    if (!(length > 0)) continue;
    const one = bulgeOf(t);
    const two = bulgeOf(u);
    const turnedOver = triangles[h] === triangles[other];
    const n1 = one?.normal ?? [normals[3 * t], normals[3 * t + 1], normals[3 * t + 2]];
    const n2 = two?.normal ?? [normals[3 * u], normals[3 * u + 1], normals[3 * u + 2]];
    const t1 = across(ex, ey, ez, length, n1, 1);
    const t2 = across(ex, ey, ez, length, n2, turnedOver ? 1 : -1);
    let gain1 = 0;
    let gain2 = 0;
    let isTangent = false;
    const s1 = one ? sagitta(h, one) : 0;
    const s2 = two ? sagitta(other, two) : 0;
    for (let step = 0; step < 3; step++) {
      const s = step / 2;
      const x = vertices[a] + s * ex;
      const y = vertices[a + 1] + s * ey;
      const z = vertices[a + 2] + s * ez;
      sideInto(work, 0, one, t1, x, y, z);
      sideInto(work, 4, two, t2, x, y, z);
      if (!Number.isNaN(s1)) work[0] = step === 1 ? s1 : 0;
      if (!Number.isNaN(s2)) work[4] = step === 1 ? s2 : 0;
      // In the plane across the edge, along n1 and t1.
      const [h1, rise1] = [work[0], work[1]];
      const [h2, rise2] = [work[4], work[5]];
      const px = n2[0] + rise2 * t2[0];
      const py = n2[1] + rise2 * t2[1];
      const pz = n2[2] + rise2 * t2[2];
      const p = px * n1[0] + py * n1[1] + pz * n1[2];
      const q = px * t1[0] + py * t1[1] + pz * t1[2];
      const determinant = q - rise1 * p;
      const sine = determinant / (Math.hypot(1, rise1) * Math.hypot(p, q));
      if (Math.abs(sine) < TANGENT_SINE) {
        isTangent = true;
        break;
      }
      const d1 = (h1 * q - rise1 * h2) / determinant;
      const d2 = (h2 - p * h1) / determinant;
      const weight = step === 1 ? (4 * length) / 6 : length / 6;
      gain1 += weight * d2;
      gain2 +=
        weight *
        (d1 * (n1[0] * t2[0] + n1[1] * t2[1] + n1[2] * t2[2]) +
          d2 * (t1[0] * t2[0] + t1[1] * t2[1] + t1[2] * t2[2]));
    }
    if (isTangent) {
      tangent.push(h);
      continue;
    }
    const f = faceOfTriangle[t];
    const g = faceOfTriangle[u];
    add(f, gain1);
    add(g, gain2);
  }
  tangentArcs(graph, tangent, faceOfTriangle, bulgeOf, add);
}

function across(
  ex: number,
  ey: number,
  ez: number,
  length: number,
  n: readonly number[],
  sign: number,
): [number, number, number] {
  const s = sign / length;
  return [s * (ey * n[2] - ez * n[1]), s * (ez * n[0] - ex * n[2]), s * (ex * n[1] - ey * n[0])];
}

/** Height of the surface over the facet, and how its normal leans outward over the edge. */
function sideInto(
  out: Float64Array,
  at: number,
  bulge: FacetBulge | undefined,
  t: readonly number[],
  x: number,
  y: number,
  z: number,
): void {
  if (!bulge) {
    out[at] = out[at + 1] = 0;
    return;
  }
  const [h, hu, hv] = bulgeAt(bulge, x, y, z);
  const tu = t[0] * bulge.u[0] + t[1] * bulge.u[1] + t[2] * bulge.u[2];
  const tv = t[0] * bulge.v[0] + t[1] * bulge.v[1] + t[2] * bulge.v[2];
  out[at] = h;
  out[at + 1] = -(hu * tu + hv * tv);
}

/** Arcs of borders between tangent faces, from the turns of the border itself. */
function tangentArcs(
  graph: SurfaceGraph,
  halfEdges: readonly number[],
  faceOfTriangle: Uint32Array,
  bulgeOf: (triangle: number) => FacetBulge | undefined,
  add: (face: number, gain: number) => void,
): void {
  if (halfEdges.length === 0) return;
  const { twin, normals } = graph;
  const { vertices, triangles } = graph.indexed;
  const at = new Map<number, number[]>();
  const pairOf = (h: number): [number, number] => {
    const f = faceOfTriangle[(h / 3) | 0];
    const g = faceOfTriangle[(twin[h] / 3) | 0];
    return f < g ? [f, g] : [g, f];
  };
  for (const h of halfEdges) {
    for (const vertex of [triangles[h], triangles[nextSide(h)]]) {
      const list = at.get(vertex);
      if (list) list.push(h);
      else at.set(vertex, [h]);
    }
  }
  const vector = (from: number, to: number): [number, number, number] => [
    vertices[3 * to] - vertices[3 * from],
    vertices[3 * to + 1] - vertices[3 * from + 1],
    vertices[3 * to + 2] - vertices[3 * from + 2],
  ];
  for (const h of halfEdges) {
    const from = triangles[h];
    const to = triangles[nextSide(h)];
    const e = vector(from, to);
    const length = Math.hypot(e[0], e[1], e[2]);
    const [f, g] = pairOf(h);
    const bend = [0, 0, 0];
    let ends = 0;
    for (const [vertex, far] of [
      [from, to],
      [to, from],
    ]) {
      for (const next of at.get(vertex) ?? []) {
        if (next === h) continue;
        const [nf, ng] = pairOf(next);
        if (nf !== f || ng !== g) continue;
        const tip = triangles[next] === vertex ? triangles[nextSide(next)] : triangles[next];
        const there = vector(vertex, tip);
        const back = vector(vertex, far);
        const nextLength = Math.hypot(there[0], there[1], there[2]);
        // Sum of the unit vectors away from the corner: it points to the inside of the bend, as long as the turn.
        const sum = [0, 1, 2].map((k) => there[k] / nextLength + back[k] / length);
        const turn = Math.hypot(sum[0], sum[1], sum[2]);
        if (!(turn < CORNER_RAD)) continue;
        for (let k = 0; k < 3; k++) bend[k] += (2 * sum[k]) / (length + nextLength);
        ends++;
        break;
      }
    }
    if (ends === 0) continue;
    const t = (h / 3) | 0;
    const u = (twin[h] / 3) | 0;
    const one = bulgeOf(t);
    const two = bulgeOf(u);
    const n1 = one?.normal ?? [normals[3 * t], normals[3 * t + 1], normals[3 * t + 2]];
    const n2 = two?.normal ?? [normals[3 * u], normals[3 * u + 1], normals[3 * u + 2]];
    const t1 = across(e[0], e[1], e[2], length, n1, 1);
    const t2 = across(e[0], e[1], e[2], length, n2, triangles[h] === triangles[twin[h]] ? 1 : -1);
    // Two thirds of the sagitta κ ℓ² / 8 along the chord, away from the inside of the bend.
    const area = -(length ** 3) / (12 * ends);
    add(faceOfTriangle[t], area * (bend[0] * t1[0] + bend[1] * t1[1] + bend[2] * t1[2]));
    add(faceOfTriangle[u], area * (bend[0] * t2[0] + bend[1] * t2[1] + bend[2] * t2[2]));
  }
}
