import { nearTriangles } from './near-triangles.ts';

/** Where a surface runs through itself. */
export interface Crossings {
  /** Triangles that another of the same shell cuts, ascending. */
  readonly triangles: Uint32Array;
  /** More pairs were found than are gone through; the list stops there. */
  readonly cutShort: boolean;
}

/** Pairs after which it is plain that the mesh is no solid, and looking on tells nobody more. */
const MOST_PAIRS = 20_000;

/**
 * Pairs of triangles of one shell that cut through each other and share no corner. Touching does not count: the cut
 * must be deeper and longer than `slack`.
 *
 * @param positions 9 floats a triangle
 * @param triangles 3 welded vertex numbers a triangle
 * @param shellOfTriangle per triangle; pairs of different shells are bodies that overlap, and not looked at here
 * @param slack model units, a few steps of the coordinates
 */
export function findCrossings(
  positions: Float32Array,
  triangles: Uint32Array,
  shellOfTriangle: (triangle: number) => number,
  slack: number,
): Crossings {
  const all = Uint32Array.from({ length: triangles.length / 3 }, (_, t) => t);
  const crossed = new Set<number>();
  let pairs = 0;
  const cutShort = nearTriangles(positions, all, all, 0, (a, b) => {
    if (b <= a || sharesCorner(triangles, a, b) || shellOfTriangle(a) !== shellOfTriangle(b)) return;
    if (!trianglesCross(positions, a, b, slack)) return;
    crossed.add(a).add(b);
    return ++pairs >= MOST_PAIRS;
  });
  return { triangles: Uint32Array.from(crossed).sort(), cutShort };
}

function sharesCorner(triangles: Uint32Array, a: number, b: number): boolean {
  for (let i = 3 * a; i < 3 * a + 3; i++) {
    const v = triangles[i];
    if (triangles[3 * b] === v || triangles[3 * b + 1] === v || triangles[3 * b + 2] === v) return true;
  }
  return false;
}

/**
 * True when the triangles cut each other by more than `slack`: each has corners on both sides of the other's plane, and
 * along the line in which the planes meet they have a piece in common (Möller, J. Graphics Tools 2, 1997).
 */
export function trianglesCross(positions: Float32Array, a: number, b: number, slack: number): boolean {
  const planeA = planeOf(positions, a);
  const planeB = planeOf(positions, b);
  if (!planeA || !planeB) return false;
  const heightB = heights(positions, b, planeA);
  if (!straddles(heightB, slack)) return false;
  const heightA = heights(positions, a, planeB);
  if (!straddles(heightA, slack)) return false;
  const way = [
    planeA[1] * planeB[2] - planeA[2] * planeB[1],
    planeA[2] * planeB[0] - planeA[0] * planeB[2],
    planeA[0] * planeB[1] - planeA[1] * planeB[0],
  ];
  const length = Math.hypot(way[0], way[1], way[2]);
  if (!(length > 0)) return false;
  const [lowA, highA] = stretch(positions, a, heightA, way);
  const [lowB, highB] = stretch(positions, b, heightB, way);
  return (Math.min(highA, highB) - Math.max(lowA, lowB)) / length > slack;
}

/** Unit normal and offset. */
function planeOf(positions: Float32Array, t: number): [number, number, number, number] | undefined {
  const i = 9 * t;
  const ux = positions[i + 3] - positions[i];
  const uy = positions[i + 4] - positions[i + 1];
  const uz = positions[i + 5] - positions[i + 2];
  const vx = positions[i + 6] - positions[i];
  const vy = positions[i + 7] - positions[i + 1];
  const vz = positions[i + 8] - positions[i + 2];
  const nx = uy * vz - uz * vy;
  const ny = uz * vx - ux * vz;
  const nz = ux * vy - uy * vx;
  const length = Math.sqrt(nx * nx + ny * ny + nz * nz);
  if (!(length > 0)) return undefined;
  const offset = (nx * positions[i] + ny * positions[i + 1] + nz * positions[i + 2]) / length;
  return [nx / length, ny / length, nz / length, offset];
}

function heights(
  positions: Float32Array,
  t: number,
  [nx, ny, nz, offset]: readonly [number, number, number, number],
): [number, number, number] {
  const at = (i: number): number =>
    nx * positions[i] + ny * positions[i + 1] + nz * positions[i + 2] - offset;
  return [at(9 * t), at(9 * t + 3), at(9 * t + 6)];
}

function straddles([p, q, r]: readonly [number, number, number], slack: number): boolean {
  return Math.min(p, q, r) < -slack && Math.max(p, q, r) > slack;
}

/** Where the triangle meets the other's plane, as a stretch along `way`. */
function stretch(
  positions: Float32Array,
  t: number,
  height: readonly [number, number, number],
  way: readonly number[],
): [number, number] {
  let low = Infinity;
  let high = -Infinity;
  const along = [0, 1, 2].map((k) => {
    const i = 9 * t + 3 * k;
    return way[0] * positions[i] + way[1] * positions[i + 1] + way[2] * positions[i + 2];
  });
  for (let k = 0; k < 3; k++) {
    const m = (k + 1) % 3;
    if (height[k] < 0 === height[m] < 0) continue;
    const share = height[k] / (height[k] - height[m]);
    const place = along[k] + share * (along[m] - along[k]);
    low = Math.min(low, place);
    high = Math.max(high, place);
  }
  return [low, high];
}
