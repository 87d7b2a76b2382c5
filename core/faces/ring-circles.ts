import { dot3, frame, length3, unit, type Vec3 } from './fit-vectors.ts';
import { roomForRows, solveRows } from './least-squares.ts';
import { isOneAxis } from './one-axis.ts';
import type { SurfaceGraph } from './surface-graph.ts';

/** Distance of a corner from its ring's circle, as a share of a chord times its turn: a chord's sagitta is an eighth of that. */
const OFF_CIRCLE = 0.02;
/** … or of a chord, at least; at least this many steps of the coordinates, … */
export const OFF_CHORD = 0.005;
export const NOISE_STEPS = 8;
/** … as much as this times what a ring known before is off by, for coordinates may have been rounded, and never more than this share of a chord. */
export const ROUNDED = 4;
const MOST_OFF = 0.1;

export interface RingCircle {
  readonly centre: Vec3;
  /** Vector area of the polygon, model units squared. */
  readonly normal: Vec3;
  readonly radius: number;
  /** How far the corners are off it at most. */
  readonly off: number;
}

/** Of the ring at hand: from its first corner to each. */
let scratch = new Float64Array(96);

/**
 * The circle on which the corners lie where half-edges start, if they do.
 *
 * @param rounded what others are off theirs by, 0 where none is known
 */
export function circleOf(graph: SurfaceGraph, ring: readonly number[], rounded = 0): RingCircle | undefined {
  const { vertices, triangles } = graph.indexed;
  const n = ring.length;
  if (3 * n > scratch.length) scratch = new Float64Array(6 * n);
  const arms = scratch;
  const first = 3 * triangles[ring[0]];
  const originX = vertices[first];
  const originY = vertices[first + 1];
  const originZ = vertices[first + 2];
  for (let k = 0, a = 0; k < n; k++, a += 3) {
    const v = 3 * triangles[ring[k]];
    arms[a] = vertices[v] - originX;
    arms[a + 1] = vertices[v + 1] - originY;
    arms[a + 2] = vertices[v + 2] - originZ;
  }
  let normalX = 0;
  let normalY = 0;
  let normalZ = 0;
  let round = 0;
  for (let a = 0; a < 3 * n; a += 3) {
    const b = a + 3 === 3 * n ? 0 : a + 3;
    normalX += (arms[a + 1] * arms[b + 2] - arms[a + 2] * arms[b + 1]) / 2;
    normalY += (arms[a + 2] * arms[b] - arms[a] * arms[b + 2]) / 2;
    normalZ += (arms[a] * arms[b + 1] - arms[a + 1] * arms[b]) / 2;
    round += length3(arms[b] - arms[a], arms[b + 1] - arms[a + 1], arms[b + 2] - arms[a + 2]);
  }
  const normal: Vec3 = [normalX, normalY, normalZ];
  const [u, v, w] = frame(normal);
  const rows = roomForRows(4, n);
  for (let k = 0, at = 0; k < n; k++, at += 4) {
    const x = dot3(arms, k, u);
    const y = dot3(arms, k, v);
    rows[at] = 2 * x;
    rows[at + 1] = 2 * y;
    rows[at + 2] = 1;
    rows[at + 3] = x * x + y * y;
  }
  const fit = solveRows(3, n);
  const radius = Math.sqrt(fit[2] + fit[0] * fit[0] + fit[1] * fit[1]);
  if (!(radius > 0)) return undefined;
  let level = 0;
  for (let k = 0; k < n; k++) level += dot3(arms, k, w) / n;
  let off = 0;
  for (let k = 0; k < n; k++) {
    const x = dot3(arms, k, u) - fit[0];
    const y = dot3(arms, k, v) - fit[1];
    off = Math.max(off, Math.abs(dot3(arms, k, w) - level), Math.abs(Math.sqrt(x * x + y * y) - radius));
  }
  if (!(off < toleranceOf(graph, round / n, n, rounded))) return undefined;
  const centre: Vec3 = [
    originX + fit[0] * u[0] + fit[1] * v[0],
    originY + fit[0] * u[1] + fit[1] * v[1],
    originZ + fit[0] * u[2] + fit[1] * v[2],
  ];
  return { centre, normal, radius, off };
}

/** Whether two rings lie about one axis. */
export function isAboutOneAxis(one: RingCircle, two: RingCircle): boolean {
  const axisOf = ({ normal, centre }: RingCircle) => ({ axis: unit(normal), point: centre });
  return isOneAxis(axisOf(one), axisOf(two), Math.max(one.radius, two.radius));
}

/** How far a ring's corners may lie off its circle, model units. */
export function toleranceOf({ noise }: SurfaceGraph, chord: number, round: number, rounded: number): number {
  const usual = chord * Math.max(OFF_CHORD, (OFF_CIRCLE * 2 * Math.PI) / round);
  return Math.min(MOST_OFF * chord, Math.max(NOISE_STEPS * noise, usual, ROUNDED * rounded));
}
