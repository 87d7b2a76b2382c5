import { dot3, frame, length3, unit, type Vec3 } from './fit-vectors.ts';
import { leastSquares } from './least-squares.ts';
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

/**
 * The circle on which the corners lie where half-edges start, if they do.
 *
 * @param rounded what others are off theirs by, 0 where none is known
 */
export function circleOf(graph: SurfaceGraph, ring: readonly number[], rounded = 0): RingCircle | undefined {
  const { vertices, triangles } = graph.indexed;
  const n = ring.length;
  const arms = new Float64Array(3 * n);
  const first = 3 * triangles[ring[0]];
  const origin: Vec3 = [vertices[first], vertices[first + 1], vertices[first + 2]];
  for (let k = 0; k < n; k++) {
    const v = 3 * triangles[ring[k]];
    for (let i = 0; i < 3; i++) arms[3 * k + i] = vertices[v + i] - origin[i];
  }
  const normal: [number, number, number] = [0, 0, 0];
  let round = 0;
  for (let a = 0; a < 3 * n; a += 3) {
    const b = a + 3 === 3 * n ? 0 : a + 3;
    normal[0] += (arms[a + 1] * arms[b + 2] - arms[a + 2] * arms[b + 1]) / 2;
    normal[1] += (arms[a + 2] * arms[b] - arms[a] * arms[b + 2]) / 2;
    normal[2] += (arms[a] * arms[b + 1] - arms[a + 1] * arms[b]) / 2;
    round += length3(arms[b] - arms[a], arms[b + 1] - arms[a + 1], arms[b + 2] - arms[a + 2]);
  }
  const [u, v, w] = frame(normal);
  const row = new Float64Array(3).fill(1);
  const fit = leastSquares(3, (add) => {
    for (let k = 0; k < n; k++) {
      const [x, y] = [dot3(arms, k, u), dot3(arms, k, v)];
      row[0] = 2 * x;
      row[1] = 2 * y;
      add(row, x * x + y * y);
    }
  });
  const radius = Math.sqrt(fit[2] + fit[0] * fit[0] + fit[1] * fit[1]);
  if (!(radius > 0)) return undefined;
  let level = 0;
  for (let k = 0; k < n; k++) level += dot3(arms, k, w) / n;
  let off = 0;
  for (let k = 0; k < n; k++) {
    const [x, y] = [dot3(arms, k, u) - fit[0], dot3(arms, k, v) - fit[1]];
    off = Math.max(off, Math.abs(dot3(arms, k, w) - level), Math.abs(Math.sqrt(x * x + y * y) - radius));
  }
  if (!(off < toleranceOf(graph, round / n, n, rounded))) return undefined;
  const centre = [0, 1, 2].map((i) => origin[i] + fit[0] * u[i] + fit[1] * v[i]) as [number, number, number];
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
