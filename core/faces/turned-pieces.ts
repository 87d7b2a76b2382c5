import { sideBefore } from '../mesh/half-edges.ts';
import type { PartGeometry } from '../mesh/part-geometry.ts';
import { dot, frame, type Vec3 } from './fit-vectors.ts';
import { NOISE_STEPS, OFF_CHORD, ROUNDED, toleranceOf, type RingCircle } from './ring-circles.ts';
import { RingSearch, type RingChain } from './ring-search.ts';
import type { SurfaceGraph } from './surface-graph.ts';

/** Faces that are looked at in vain: where so many are no rings, nothing is. */
const MOST_IN_VAIN = 20_000;
/** Triangles that are looked at beside the first ones of faces. */
const SAMPLES = 200;
/** Difference of steps up to which they are alike. */
const EVEN = 0.03;
/** Height of a flat band against its width. */
const FLAT = 1e-3;

/** Corners on one circle about the axis of a turned piece; one on the axis itself has radius 0 and no half-edges. */
export interface TurnedRing {
  readonly radius: number;
  readonly height: number;
  /** From corner to corner, those on the side of the band after it, or before it where none is after; cyclic. */
  readonly halfEdges: readonly number[];
  /** What the polygon lacks of the circle's disc, model units squared. */
  readonly segments: number;
  /** Widest angle between two corners, rad, and whether all are alike. */
  readonly widestRad: number;
  readonly even: boolean;
}

/** Rings of corners about one axis, each joined to the next by a band of triangles: band i lies between ring i and ring i + 1. */
export interface TurnedPiece {
  readonly rings: readonly TurnedRing[];
  readonly bands: readonly (readonly number[])[];
  /** The last band leads back to the first ring. */
  readonly isLoop: boolean;
  /** A point of the axis, and its direction at unit length. */
  readonly point: Vec3;
  readonly axis: Vec3;
  /** How far off the middles of its rings may be, model units. */
  readonly noise: number;
}

/**
 * Turned pieces drawn in rings of corners: those that stand off one another, with triangles up and down by turns between them, whose edges
 * do not run along the surface's lines of curvature; and those with quads between them that are not of one width. Known by the corners
 * alone, whatever faces the triangles were put in: low rings turn inward, by more than a crease. From the first triangle of each face on and some others, or from one beside it.
 */
export function turnedPieces({ graph, faces }: PartGeometry): TurnedPiece[] {
  const found: TurnedPiece[] = [];
  const search = new RingSearch(graph);
  let inVain = 0;
  const lookAt = (t: number): void => {
    if (inVain > MOST_IN_VAIN || search.isTaken(t)) return;
    const chain = search.chainFrom(t);
    const piece = chain && settled(graph, chain);
    if (piece) found.push(piece);
    else if (chain) search.leave(chain);
    if (!piece) inVain++;
  };
  const total = graph.triangleAreas.length;
  const stride = Math.ceil(total / SAMPLES);
  for (let f = 0; f < faces.count; f++) lookAt(faces.firstTriangle[f]);
  for (let t = 0; t < total; t += stride) lookAt(t);
  return found;
}

/** Radii and heights about the axis that all rings have in common; undefined where they have none. */
function settled(graph: SurfaceGraph, { rings, circles, bands, isLoop }: RingChain): TurnedPiece | undefined {
  const { vertices, triangles } = graph.indexed;
  const axis: [number, number, number] = [0, 0, 0];
  let widest: RingCircle | undefined;
  let rounded = 0;
  let noise = graph.noise;
  for (const [i, circle] of circles.entries()) {
    if (!circle) continue;
    rounded = Math.max(rounded, circle.off);
    noise = Math.max(noise, circle.off / Math.sqrt(rings[i].length));
    for (let k = 0; k < 3; k++) axis[k] += circle.normal[k];
    if (!widest || circle.radius > widest.radius) widest = circle;
  }
  if (!widest) return undefined;
  const { centre } = widest;
  const [u, v, w] = frame(axis);
  const place = (vertex: number): readonly [number, number, number] => {
    const arm = [0, 1, 2].map((i) => vertices[3 * vertex + i] - centre[i]);
    return [dot(arm, u), dot(arm, v), dot(arm, w)];
  };
  const found: TurnedRing[] = [];
  for (let i = 0; i < rings.length; i++) {
    const ring = rings[i];
    if (ring.length === 0) {
      // The corner that all triangles of the fan have in common, across from the ring that it is joined to.
      const [h] = i === 0 ? rings[1] : rings[i - 1];
      const tip = triangles[sideBefore(i === 0 ? graph.twin[h] : h)];
      const [x, y, height] = place(tip);
      if (
        Math.hypot(x, y) > Math.max(NOISE_STEPS * graph.noise, ROUNDED * rounded, OFF_CHORD * widest.radius)
      )
        return undefined;
      found.push({ radius: 0, height, halfEdges: [], segments: 0, widestRad: 0, even: true });
      continue;
    }
    const n = ring.length;
    const places = new Float64Array(3 * n);
    let radius = 0;
    let height = 0;
    ring.forEach((h, k) => {
      const [x, y, z] = place(triangles[h]);
      radius += Math.sqrt(x * x + y * y) / n;
      height += z / n;
      places.set([x, y, z], 3 * k);
    });
    const near = toleranceOf(graph, (2 * Math.PI * radius) / n, n, rounded);
    let [widestRad, leastRad, round, segments] = [0, Infinity, 0, 0];
    for (let a = 0; a < 3 * n; a += 3) {
      const b = a + 3 === 3 * n ? 0 : a + 3;
      const [x, y, p, q] = [places[a], places[a + 1], places[b], places[b + 1]];
      if (Math.abs(places[a + 2] - height) > near || Math.abs(Math.hypot(x, y) - radius) > near)
        return undefined;
      const step = Math.atan2(x * q - y * p, x * p + y * q);
      widestRad = Math.max(widestRad, step);
      leastRad = Math.min(leastRad, step);
      round += step;
      segments += (radius * radius * (step - Math.sin(step))) / 2;
    }
    // All round once, and nowhere back.
    if (!(leastRad > 0) || Math.abs(round - 2 * Math.PI) > 1e-6) return undefined;
    const even = widestRad < (1 + EVEN) * leastRad;
    found.push({ radius, height, halfEdges: ring, segments, widestRad, even });
  }
  return trimmed({ rings: found, bands, isLoop, point: centre, axis: w, noise });
}

export function isFlatBand({ rings }: Pick<TurnedPiece, 'rings'>, i: number): boolean {
  const [one, two] = [rings[i], rings[(i + 1) % rings.length]];
  return Math.abs(one.height - two.height) < FLAT * Math.abs(one.radius - two.radius);
}

/** Without flat bands at its ends: what bounds them may be a bar of flats. Undefined where nothing else is there. */
function trimmed(piece: TurnedPiece): TurnedPiece | undefined {
  const { rings, bands, isLoop } = piece;
  if (isLoop) return piece;
  let [from, to] = [0, bands.length];
  while (from < to && rings[from].radius > 0 && isFlatBand(piece, from)) from++;
  while (to > from && rings[to].radius > 0 && isFlatBand(piece, to - 1)) to--;
  const isFlat = bands.every((_, i) => i < from || i >= to || isFlatBand(piece, i));
  return isFlat ? undefined : { ...piece, rings: rings.slice(from, to + 1), bands: bands.slice(from, to) };
}
