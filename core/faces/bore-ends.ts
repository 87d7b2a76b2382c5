import { OPEN_EDGE } from '../mesh/edge-adjacency.ts';
import type { PartGeometry } from '../mesh/part-geometry.ts';
import { add, anyPerpendicular, cross, scale, type Vec3 } from '../racking/vec3.ts';
import type { RoundWall } from './round-wall.ts';

/**
 * One end of a bore: nothing stands in front of it, something does, or the mesh has a gap there, so that a floor may be
 * missing.
 */
export type BoreEnd = 'open' | 'closed' | 'unknown';

/** Whether a bore goes through; `shut` where neither end opens. */
export type BoreReach = 'through' | 'blind' | 'unknown' | 'shut';

export function boreReach(ends: readonly [BoreEnd, BoreEnd]): BoreReach {
  if (ends.includes('unknown')) return 'unknown';
  const open = ends.filter((end) => end === 'open').length;
  return open === 2 ? 'through' : open === 1 ? 'blind' : 'shut';
}

type Shape = Pick<PartGeometry, 'positions' | 'graph' | 'closed'>;

/** Free for a diameter beyond its mouth, a bore opens there; a floor or a drill's cone (118°: 0.6 radii) is met sooner. */
const FREE_DIAMETERS = 1;
/**
 * Seen from a quarter of the radius, so that a counterbore's shoulder does not close it and a pin hole in a floor does
 * not open it; not on the axis, where a cone has its tip.
 */
const LOOK_FROM = 0.25;
const LOOKS = 6;
const FREE_LOOKS = 4;
/** The looks are turned by this part of a step, so that none runs along an edge of facets that start at the axes. */
const TURN = 0.37;
/** A gap within this of the axis, in radii, may be that of a floor; the rim is at 1. */
const GAP_RADII = 1.05;
/** Squared, across over along: an open edge steeper than this is a seam in the wall, not a rim. */
const ALONG = 0.2;
/** Triangles looked at together. */
const BLOCK = 128;

/**
 * How the bores with these walls end: [against the axis, along it]. Looked at along the axis from half way down the
 * wall. A bore that runs into another counts as open only where the way goes on for a diameter.
 */
export function boreEnds(part: Shape, walls: readonly RoundWall[]): (readonly [BoreEnd, BoreEnd])[] {
  if (walls.length === 0) return [];
  const blocks = blockBoxes(part.positions);
  return walls.map((wall) => [lookOut(part, blocks, wall, -1), lookOut(part, blocks, wall, 1)]);
}

function lookOut(part: Shape, blocks: Float64Array, wall: RoundWall, towards: 1 | -1): BoreEnd {
  const { positions, graph, closed } = part;
  const { radius } = wall;
  const middle = (wall.low + wall.high) / 2;
  const origin = add(wall.onAxis, scale(wall.axis, middle));
  const way = scale(wall.axis, towards);
  const u = anyPerpendicular(wall.axis);
  const v = cross(way, u);
  const far = (wall.high - wall.low) / 2 + 2 * radius * FREE_DIAMETERS;
  const looks = Array.from({ length: LOOKS }, (_, i): readonly [number, number] => {
    const angle = (2 * Math.PI * (i + TURN)) / LOOKS;
    return [LOOK_FROM * radius * Math.cos(angle), LOOK_FROM * radius * Math.sin(angle)];
  });
  // How far each sees, and whether what it meets there is metal: from inside of it something is missing before.
  const seen = new Float64Array(LOOKS).fill(Infinity);
  const entersMetal = new Uint8Array(LOOKS);
  let gap = false;
  const aside = GAP_RADII * radius;
  // In an open mesh what lies further on tells whether something is missing before it.
  const inReach = columnOver(origin, way, closed ? far : Infinity, aside);
  const local = new Float64Array(9);
  for (let block = 0; block < blocks.length / 6; block++) {
    if (!inReach(blocks, 6 * block)) continue;
    const end = Math.min(positions.length / 9, (block + 1) * BLOCK);
    for (let t = block * BLOCK; t < end; t++) {
      for (let k = 0; k < 9; k += 3) {
        const x = positions[9 * t + k] - origin[0];
        const y = positions[9 * t + k + 1] - origin[1];
        const z = positions[9 * t + k + 2] - origin[2];
        local[k] = x * u[0] + y * u[1] + z * u[2];
        local[k + 1] = x * v[0] + y * v[1] + z * v[2];
        local[k + 2] = x * way[0] + y * way[1] + z * way[2];
      }
      if (local[2] < 0 && local[5] < 0 && local[8] < 0) continue;
      for (let i = 0; i < LOOKS; i++) {
        const height = heightOver(looks[i], local);
        if (!(height > 0 && height < seen[i])) continue;
        seen[i] = height;
        entersMetal[i] = signedArea(local) < 0 ? 1 : 0;
      }
      gap ||= !closed && hasGap(graph.twin, t, local, aside, far);
    }
  }
  let free = 0;
  let doubtful = 0;
  for (let i = 0; i < LOOKS; i++) {
    if (!closed && seen[i] < Infinity && entersMetal[i] === 0) doubtful++;
    else if (seen[i] > far) free++;
  }
  if (free + doubtful < FREE_LOOKS) return 'closed';
  return gap || doubtful > 0 ? 'unknown' : 'open';
}

/** Height at which a line along the third axis through (x, y) meets a triangle; NaN where it misses. */
function heightOver([x, y]: readonly [number, number], p: Float64Array): number {
  const [ax, ay, bx, by, cx, cy] = [p[0] - x, p[1] - y, p[3] - x, p[4] - y, p[6] - x, p[7] - y];
  const a = bx * cy - by * cx;
  const b = cx * ay - cy * ax;
  const c = ax * by - ay * bx;
  const sum = a + b + c;
  if (sum === 0 || a * sum < 0 || b * sum < 0 || c * sum < 0) return NaN;
  return (a * p[2] + b * p[5] + c * p[8]) / sum;
}

/** Twice the area of its shadow; positive where it faces along the third axis. */
function signedArea(p: Float64Array): number {
  return (p[3] - p[0]) * (p[7] - p[1]) - (p[4] - p[1]) * (p[6] - p[0]);
}

/** Whether an edge of the triangle without a neighbour comes within `aside` of the axis, before `far`, and not along it. */
function hasGap(twin: Int32Array, t: number, p: Float64Array, aside: number, far: number): boolean {
  for (let k = 0; k < 3; k++) {
    if (twin[3 * t + k] !== OPEN_EDGE) continue;
    const [i, j] = [3 * k, 3 * ((k + 1) % 3)];
    const [dx, dy, dz] = [p[j] - p[i], p[j + 1] - p[i + 1], p[j + 2] - p[i + 2]];
    const across = dx * dx + dy * dy;
    // A seam in the wall, from end to end, hides no floor.
    if (!(across > ALONG * dz * dz)) continue;
    if (Math.max(p[i + 2], p[j + 2]) < 0 || Math.min(p[i + 2], p[j + 2]) > far) continue;
    const s = Math.min(1, Math.max(0, -(p[i] * dx + p[i + 1] * dy) / across));
    if (Math.hypot(p[i] + s * dx, p[i + 1] + s * dy) <= aside) return true;
  }
  return false;
}

/** Least and most in x, y and z of each run of triangles: files mostly list neighbours together. */
function blockBoxes(positions: ArrayLike<number>): Float64Array {
  const count = Math.ceil(positions.length / 9 / BLOCK);
  const boxes = new Float64Array(6 * count);
  for (let block = 0; block < count; block++) {
    const end = Math.min(positions.length, 9 * BLOCK * (block + 1));
    for (let axis = 0; axis < 3; axis++) {
      let low = Infinity;
      let high = -Infinity;
      for (let i = 9 * BLOCK * block + axis; i < end; i += 3) {
        if (positions[i] < low) low = positions[i];
        if (positions[i] > high) high = positions[i];
      }
      boxes[6 * block + axis] = low;
      boxes[6 * block + 3 + axis] = high;
    }
  }
  return boxes;
}

/** Whether a box may reach into the round column from `from` along `way`: by its middle and the ball around it. */
function columnOver(from: Vec3, way: Vec3, length: number, radius: number) {
  return (boxes: Float64Array, at: number): boolean => {
    let along = 0;
    let squared = 0;
    let half = 0;
    for (let axis = 0; axis < 3; axis++) {
      const middle = (boxes[at + axis] + boxes[at + 3 + axis]) / 2 - from[axis];
      along += middle * way[axis];
      squared += middle * middle;
      half += (boxes[at + 3 + axis] - boxes[at + axis]) ** 2 / 4;
    }
    const ball = Math.sqrt(half);
    if (along < -ball || along > length + ball) return false;
    return squared - along * along <= (radius + ball) ** 2;
  };
}
