import { edgeLength } from '../mesh/edge-length.ts';
import { nextSide } from '../mesh/half-edges.ts';
import { NOISE_STEPS, type RingCircle } from './ring-circles.ts';
import { isRound } from './ring-kinds.ts';
import { areEven, isEven } from './ring-spans.ts';
import type { SurfaceGraph } from './surface-graph.ts';

/** Sides that turn by less are cut across a quad. */
const FLAT_RAD = 1e-4;
/** So few corners lie on a circle by chance: those of a block whose corners are broken. Meant, they are on it within this share of its radius. */
const FEW = 16;
const NEAR_SHARE = 5e-4;
/** Triangles that are looked at round one corner. */
export const MOST_AT_CORNER = 100;

export function isFlatEdge(turns: Float32Array, h: number): boolean {
  return Math.abs(turns[h]) <= FLAT_RAD;
}

/**
 * The rim of the quad beside that on which half-edge `h` lies, beginning where `h` ends: past the one side that the two quads have in
 * common, whichever way they are cut in two. −1 where there is none.
 */
export function nextOfQuads({ twin, indexed }: SurfaceGraph, turns: Float32Array, h: number): number {
  const { triangles } = indexed;
  let isBeyond = false;
  let at = nextSide(h);
  for (let steps = 0; steps < MOST_AT_CORNER; steps++) {
    if (!isFlatEdge(turns, at)) {
      if (isBeyond) return at;
      isBeyond = true;
    }
    const other = twin[at];
    if (other < 0 || triangles[other] === triangles[at]) return -1;
    at = nextSide(other);
  }
  return -1;
}

/** Whether some rims in a row are of one width. */
export function isOfOneWidth(graph: SurfaceGraph, rims: readonly number[]): boolean {
  let least = Infinity;
  let most = -Infinity;
  for (let i = 0; i < rims.length; i++) {
    const chord = edgeLength(graph.indexed, rims[i]);
    if (chord < least) least = chord;
    if (chord > most) most = chord;
  }
  return areEven(least, most);
}

/** Whether a ring's quads are of more than one width, and yet those of a round: see ring-kinds.ts. */
export function isUnevenRound(
  graph: SurfaceGraph,
  ring: readonly number[],
  { radius, off }: Pick<RingCircle, 'radius' | 'off'>,
): boolean {
  const near = Math.max(NOISE_STEPS * graph.noise, NEAR_SHARE * radius);
  if (ring.length <= FEW && !(off < near)) return false;
  const spansRad = chordsOf(graph, ring).map((chord) => 2 * Math.asin(Math.min(1, chord / (2 * radius))));
  return !isEven(spansRad) && isRound({ spansRad, closed: true, tangent: false });
}

function chordsOf({ indexed }: SurfaceGraph, rims: readonly number[]): number[] {
  return rims.map((h) => edgeLength(indexed, h));
}
