import { rotate, type Pose } from './pose.ts';
import { buildTriangleBvh, type TriangleBvh } from './triangle-bvh.ts';
import { triangleDistanceSquaredInto } from './triangle-distance.ts';
import { add, subtract, type Vec3 } from './vec3.ts';

/** A surface ready for distances, metres in its own frame; the boxes are built once and serve every pose. */
export interface DistanceBody {
  readonly vertices: Float64Array;
  readonly triangles: Uint32Array;
  readonly bvh: TriangleBvh;
}

export interface Nearest {
  /** 0 when the surfaces touch or cross. */
  readonly distanceM: number;
  /** The two nearest points, in the tank. */
  readonly onA: Vec3;
  readonly onB: Vec3;
  /** The two triangles, as a hint for the next pose while one is dragged. */
  readonly pair: readonly [number, number];
}

export function distanceBody(
  vertices: ArrayLike<number>,
  triangles: Uint32Array,
  metresPerUnit: number,
): DistanceBody {
  if (!(metresPerUnit > 0)) throw new RangeError(`distanceBody: metresPerUnit is ${metresPerUnit}`);
  const scaled = Float64Array.from(vertices, (x) => x * metresPerUnit);
  return { vertices: scaled, triangles, bvh: buildTriangleBvh(scaled, triangles) };
}

/**
 * Smallest distance between two posed surfaces, exact to rounding. Pairs of boxes are opened nearest first; a pair
 * further apart than what was found already is left closed. Surfaces only: a body wholly inside another has the
 * distance of the walls.
 * @param hint the pair found for a pose nearby: most boxes then stay closed
 * @param ceilingM when nothing is nearer than this the answer is undefined; keeps a search among many bodies short
 */
export function distanceBetween(
  a: DistanceBody,
  poseA: Pose,
  b: DistanceBody,
  poseB: Pose,
  ceilingM = Infinity,
  hint?: readonly [number, number],
): Nearest | undefined {
  if (a.triangles.length === 0 || b.triangles.length === 0) return undefined;
  // Everything is done in A's frame: m = A⁻¹ B, by rows, then the offset.
  const m = new Float64Array(9);
  const ra = poseA.rotation;
  const rb = poseB.rotation;
  for (let i = 0; i < 3; i++) {
    for (let j = 0; j < 3; j++) {
      m[3 * i + j] = ra[i] * rb[j] + ra[3 + i] * rb[3 + j] + ra[6 + i] * rb[6 + j];
    }
  }
  const between = subtract(poseB.offsetM, poseA.offsetM);
  const o = [0, 1, 2].map((i) => ra[i] * between[0] + ra[3 + i] * between[1] + ra[6 + i] * between[2]);
  const size = m.map(Math.abs);
  const boxB = new Float64Array(6);
  /** From A to B, unit length, A's frame; any direction is right, a good one saves work. */
  const way = new Float64Array(3);
  const loadBoxB = (node: number): void => {
    const at = 6 * node;
    for (let i = 0; i < 3; i++) {
      let middle = o[i];
      let half = 0;
      for (let j = 0; j < 3; j++) {
        const low = b.bvh.bounds[at + j];
        const high = b.bvh.bounds[at + 3 + j];
        middle += (m[3 * i + j] * (low + high)) / 2;
        half += (size[3 * i + j] * (high - low)) / 2;
      }
      boxB[i] = middle - half;
      boxB[3 + i] = middle + half;
    }
  };
  const gapSquared = (nodeA: number, nodeB: number): number => {
    loadBoxB(nodeB);
    let sum = 0;
    for (let k = 0; k < 3; k++) {
      const gap = Math.max(
        a.bvh.bounds[6 * nodeA + k] - boxB[3 + k],
        boxB[k] - a.bvh.bounds[6 * nodeA + 3 + k],
      );
      if (gap > 0) sum += gap * gap;
    }
    // The same along the line between the nearest points so far: two facing surfaces are apart mostly that way.
    let along = 0;
    for (let k = 0; k < 3; k++) {
      const highA = a.bvh.bounds[6 * nodeA + (way[k] > 0 ? 3 + k : k)];
      const rowB = way[0] * m[k] + way[1] * m[3 + k] + way[2] * m[6 + k];
      const lowB = b.bvh.bounds[6 * nodeB + (rowB > 0 ? k : 3 + k)];
      along += rowB * lowB + way[k] * (o[k] - highA);
    }
    return along > 0 && along * along > sum ? along * along : sum;
  };
  const sizeOf = (bounds: Float64Array, node: number): number => {
    const at = 6 * node;
    return bounds[at + 3] - bounds[at] + bounds[at + 4] - bounds[at + 1] + bounds[at + 5] - bounds[at + 2];
  };
  let best = ceilingM === Infinity ? Infinity : ceilingM * ceilingM;
  let found: Float64Array | undefined;
  let pair: readonly [number, number] = [0, 0];
  const p = new Float64Array(9);
  const q = new Float64Array(9);
  const leafB = new Float64Array(9 * LEAF_ROOM);
  const points = new Float64Array(6);
  const loadA = (triangle: number): void => {
    for (let corner = 0; corner < 3; corner++) {
      const v = 3 * a.triangles[3 * triangle + corner];
      p[3 * corner] = a.vertices[v];
      p[3 * corner + 1] = a.vertices[v + 1];
      p[3 * corner + 2] = a.vertices[v + 2];
    }
  };
  const loadBInto = (into: Float64Array, at: number, triangle: number): void => {
    for (let corner = 0; corner < 3; corner++) {
      const v = 3 * b.triangles[3 * triangle + corner];
      const x = b.vertices[v];
      const y = b.vertices[v + 1];
      const z = b.vertices[v + 2];
      const to = at + 3 * corner;
      into[to] = m[0] * x + m[1] * y + m[2] * z + o[0];
      into[to + 1] = m[3] * x + m[4] * y + m[5] * z + o[1];
      into[to + 2] = m[6] * x + m[7] * y + m[8] * z + o[2];
    }
  };
  const tryPair = (triangleA: number, triangleB: number): void => {
    const squared = triangleDistanceSquaredInto(p, q, points);
    if (squared >= best) return;
    best = squared;
    found = points.slice();
    pair = [triangleA, triangleB];
    const size = Math.sqrt(squared);
    if (size > 0) for (let k = 0; k < 3; k++) way[k] = (points[3 + k] - points[k]) / size;
  };
  const leaves = (nodeA: number, nodeB: number): void => {
    const startB = b.bvh.link[nodeB];
    const countB = b.bvh.count[nodeB];
    for (let j = 0; j < countB; j++) loadBInto(leafB, 9 * j, b.bvh.order[startB + j]);
    for (let i = a.bvh.link[nodeA]; i < a.bvh.link[nodeA] + a.bvh.count[nodeA]; i++) {
      const triangleA = a.bvh.order[i];
      loadA(triangleA);
      for (let j = 0; j < countB; j++) {
        if (gapAlong(way, p, leafB, 9 * j) ** 2 >= best || boxGapSquared(p, leafB, 9 * j) >= best) continue;
        for (let k = 0; k < 9; k++) q[k] = leafB[9 * j + k];
        tryPair(triangleA, b.bvh.order[startB + j]);
      }
    }
  };
  if (hint && hint[0] < a.triangles.length / 3 && hint[1] < b.triangles.length / 3) {
    loadA(hint[0]);
    loadBInto(q, 0, hint[1]);
    tryPair(hint[0], hint[1]);
  }
  // Depth first, the nearer pair on top. Three numbers a pair: node of A, node of B, squared gap.
  const stack: number[] = [0, 0, gapSquared(0, 0)];
  while (stack.length > 0 && best > 0) {
    const gap = stack.pop()!;
    const nodeB = stack.pop()!;
    const nodeA = stack.pop()!;
    if (gap >= best) continue;
    const endA = a.bvh.count[nodeA] > 0;
    const endB = b.bvh.count[nodeB] > 0;
    if (endA && endB) {
      leaves(nodeA, nodeB);
      continue;
    }
    const openA = !endA && (endB || sizeOf(a.bvh.bounds, nodeA) >= sizeOf(b.bvh.bounds, nodeB));
    const left = (openA ? nodeA : nodeB) + 1;
    const right = openA ? a.bvh.link[nodeA] : b.bvh.link[nodeB];
    const gapLeft = openA ? gapSquared(left, nodeB) : gapSquared(nodeA, left);
    const gapRight = openA ? gapSquared(right, nodeB) : gapSquared(nodeA, right);
    const push = (child: number, childGap: number): void => {
      if (childGap < best) stack.push(openA ? child : nodeA, openA ? nodeB : child, childGap);
    };
    if (gapLeft > gapRight) {
      push(left, gapLeft);
      push(right, gapRight);
    } else {
      push(right, gapRight);
      push(left, gapLeft);
    }
  }
  if (!found) return undefined;
  const inTank = (at: number): Vec3 =>
    add(rotate(ra, [found![at], found![at + 1], found![at + 2]]), poseA.offsetM);
  return { distanceM: Math.sqrt(best), onA: inTank(0), onB: inTank(3), pair };
}

/** At least the largest leaf of buildTriangleBvh. */
const LEAF_ROOM = 8;

/** How far `q` lies beyond `p` along a direction; 0 when it does not. */
function gapAlong(way: Float64Array, p: Float64Array, q: Float64Array, at: number): number {
  let highP = -Infinity;
  let lowQ = Infinity;
  for (let k = 0; k < 9; k += 3) {
    const onP = way[0] * p[k] + way[1] * p[k + 1] + way[2] * p[k + 2];
    const onQ = way[0] * q[at + k] + way[1] * q[at + k + 1] + way[2] * q[at + k + 2];
    if (onP > highP) highP = onP;
    if (onQ < lowQ) lowQ = onQ;
  }
  return lowQ > highP ? lowQ - highP : 0;
}

/** Squared gap between the boxes around two triangles. */
function boxGapSquared(p: Float64Array, q: Float64Array, at: number): number {
  let sum = 0;
  for (let k = 0; k < 3; k++) {
    const p0 = p[k];
    const p1 = p[k + 3];
    const p2 = p[k + 6];
    const q0 = q[at + k];
    const q1 = q[at + k + 3];
    const q2 = q[at + k + 6];
    const lowP = p0 < p1 ? (p0 < p2 ? p0 : p2) : p1 < p2 ? p1 : p2;
    const highP = p0 > p1 ? (p0 > p2 ? p0 : p2) : p1 > p2 ? p1 : p2;
    const lowQ = q0 < q1 ? (q0 < q2 ? q0 : q2) : q1 < q2 ? q1 : q2;
    const highQ = q0 > q1 ? (q0 > q2 ? q0 : q2) : q1 > q2 ? q1 : q2;
    const gap = lowP > highQ ? lowP - highQ : lowQ > highP ? lowQ - highP : 0;
    sum += gap * gap;
  }
  return sum;
}
