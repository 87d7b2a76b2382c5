import { edgeLength } from '../mesh/edge-length.ts';
import { membersOf } from '../mesh/members-of.ts';
import { flattenSetsInto, joinSets, singleSets } from '../mesh/disjoint-sets.ts';
import { faceNeighbours } from './face-neighbours.ts';
import { FACE_KINDS, type FaceTable } from './face-table.ts';
import { copyShapeInto, withOwnShapes } from './face-shapes.ts';
import { dot } from './fit-vectors.ts';
import { areNeedles, longestSide2 } from './needles.ts';
import { isOneAxis } from './one-axis.ts';
import { recognisedInPart } from './recognised-in-part.ts';
import { regrouped } from './regroup-faces.ts';
import type { SurfaceGraph } from './surface-graph.ts';
import { facingOn, LEAST_FACING, TWICE_AS_COARSE } from './surfaces/facing-on.ts';
import { lookedAt } from './surfaces/looked-at.ts';
import type { SurfaceRow } from './surfaces/known-surface.ts';
import { knownSurfaceOf, LEAST_TRIANGLES, type Known } from './surfaces/known-surface-of.ts';

const PLANE = FACE_KINDS.indexOf('plane');
/** A needle is entered over a side of at least this share of its longest: from the wall it lies in, not over its end. */
const OVER_LONG = 0.75;
/** Axes of faces beside one that are tried. */
const MOST_AXES = 4;

/**
 * Gives triangles of faces that are of no known surface to the face beside whose surface they lie on. Where two bores of nearly one width meet, or a
 * fillet runs out, needles lead from one wall into the other, and both are split as one free face.
 *
 * @returns the table itself where there are none
 */
export function claimTriangles(graph: SurfaceGraph, faces: FaceTable): FaceTable {
  const { count, kind, area, triangleCount, faceOfTriangle } = faces;
  const rows: number[] = [];
  for (let f = 0; f < count; f++) if (kind[f] !== PLANE || triangleCount[f] === 1) rows.push(f);
  const looked = lookedAt(
    faces,
    rows.sort((a, b) => area[b] - area[a]),
  );
  if (looked.length < 2) return faces;
  const trianglesOf = membersOf(faceOfTriangle, count);
  const known = new Map<number, Known>();
  const isOpen = new Uint8Array(count);
  for (const f of looked) {
    const whole =
      triangleCount[f] < LEAST_TRIANGLES ? undefined : knownSurfaceOf(graph, faces, f, trianglesOf[f]);
    if (whole) known.set(f, whole);
    else isOpen[f] = 1;
  }
  const owner = faceOfTriangle.slice();
  const lost = new Set<number>();
  let own = faces;
  const beside = faceNeighbours(faces);
  const axesBeside = (f: number): SurfaceRow[] => {
    const places = (beside.get(f) ?? []).flatMap((g) => known.get(g)?.surface.asRow() ?? []);
    return distinct(places.filter(({ axis }) => dot(axis, axis) > 0)).slice(0, MOST_AXES);
  };
  for (const f of looked) {
    if (isOpen[f] === 0 || triangleCount[f] < LEAST_TRIANGLES) continue;
    const part = recognisedInPart(graph, faces, f, trianglesOf[f], axesBeside(f));
    if (!part) continue;
    if (own === faces) own = withOwnShapes(faces);
    copyShapeInto(own, f, part.shape, 0);
    if (part.known) known.set(f, part.known);
    isOpen[f] = 0;
    const kept = new Set(part.triangles);
    if (kept.size === trianglesOf[f].length) continue;
    for (const t of trianglesOf[f]) if (!kept.has(t)) owner[t] = count + f;
    lost.add(count + f);
  }
  if (!isOpen.includes(1) && lost.size === 0) return own;
  for (const [f, surface] of known) {
    const triangles = trianglesOf[f].filter((t) => owner[t] === f);
    claim(graph, own, f, surface, triangles, isOpen, owner, lost);
  }
  return lost.size === 0 ? own : regrouped(graph, own, withRests(graph, owner, lost, 2 * count));
}

/** One of each axis. */
function distinct(places: readonly SurfaceRow[]): SurfaceRow[] {
  const found: SurfaceRow[] = [];
  for (const place of places) {
    if (!found.some((other) => isOneAxis(other, place, Math.max(other.size, place.size)))) found.push(place);
  }
  return found;
}

/** Changes `owner` of the triangles that are taken, and puts in `lost` whom they belonged to. */
function claim(
  graph: SurfaceGraph,
  { faceOfTriangle, inward }: FaceTable,
  f: number,
  known: Known,
  triangles: Uint32Array,
  isOpen: Uint8Array,
  owner: Uint32Array,
  lost: Set<number>,
): void {
  const { twin } = graph;
  const waiting = [...triangles];
  for (let t = waiting.pop(); t !== undefined; t = waiting.pop()) {
    for (let h = 3 * t; h < 3 * t + 3; h++) {
      if (twin[h] < 0) continue;
      const u = (twin[h] / 3) | 0;
      const g = owner[u];
      if (g === f || !(g >= isOpen.length || (g === faceOfTriangle[u] && isOpen[g] !== 0))) continue;
      const long2 = longestSide2(graph, u);
      const isNeedle = areNeedles(graph.triangleAreas[u], long2);
      if (isNeedle && !(edgeLength(graph.indexed, h) ** 2 > OVER_LONG ** 2 * long2)) continue;
      const facing = facingOn(graph, known, inward[f] !== 0, u, TWICE_AS_COARSE);
      // Which way a needle leans tells nothing.
      if (facing === undefined || !(isNeedle || facing > LEAST_FACING)) continue;
      owner[u] = f;
      lost.add(g);
      waiting.push(u);
    }
  }
}

/** Labels of the triangles: what is left of faces that lost some is a face for each piece. */
function withRests(
  { twin }: SurfaceGraph,
  owner: Uint32Array,
  lost: ReadonlySet<number>,
  count: number,
): Uint32Array {
  const piece = singleSets(owner.length);
  for (let h = 0; h < twin.length; h++) {
    if (!(twin[h] > h)) continue;
    const [t, u] = [(h / 3) | 0, (twin[h] / 3) | 0];
    if (owner[t] === owner[u] && lost.has(owner[t])) joinSets(piece, t, u);
  }
  flattenSetsInto(piece);
  return owner.map((f, t) => (lost.has(f) ? count + piece[t] : f));
}
