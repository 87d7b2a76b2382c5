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
 * @param ceilingM when nothing is nearer than this the answer is undefined; keeps a search among many bodies short
 */
export function distanceBetween(
  a: DistanceBody,
  poseA: Pose,
  b: DistanceBody,
  poseB: Pose,
  ceilingM = Infinity,
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
    return sum;
  };
  const volumeOf = (bvh: TriangleBvh, node: number): number => {
    const at = 6 * node;
    return Math.hypot(
      bvh.bounds[at + 3] - bvh.bounds[at],
      bvh.bounds[at + 4] - bvh.bounds[at + 1],
      bvh.bounds[at + 5] - bvh.bounds[at + 2],
    );
  };
  let best = ceilingM === Infinity ? Infinity : ceilingM * ceilingM;
  let found: Float64Array | undefined;
  const p = new Float64Array(9);
  const q = new Float64Array(9);
  const points = new Float64Array(6);
  const leaves = (nodeA: number, nodeB: number): void => {
    for (let i = a.bvh.link[nodeA]; i < a.bvh.link[nodeA] + a.bvh.count[nodeA]; i++) {
      const t = 3 * a.bvh.order[i];
      for (let k = 0; k < 9; k++) p[k] = a.vertices[3 * a.triangles[t + Math.floor(k / 3)] + (k % 3)];
      for (let j = b.bvh.link[nodeB]; j < b.bvh.link[nodeB] + b.bvh.count[nodeB]; j++) {
        const u = 3 * b.bvh.order[j];
        for (let corner = 0; corner < 3; corner++) {
          const v = 3 * b.triangles[u + corner];
          for (let k = 0; k < 3; k++) {
            q[3 * corner + k] =
              m[3 * k] * b.vertices[v] +
              m[3 * k + 1] * b.vertices[v + 1] +
              m[3 * k + 2] * b.vertices[v + 2] +
              o[k];
          }
        }
        const squared = triangleDistanceSquaredInto(p, q, points);
        if (squared < best) {
          best = squared;
          found = points.slice();
        }
      }
    }
  };
  // Depth first, the nearer pair on top.
  const stack: number[] = [0, 0, gapSquared(0, 0)];
  while (stack.length > 0 && best > 0) {
    const gap = stack.pop()!;
    const nodeB = stack.pop()!;
    const nodeA = stack.pop()!;
    if (gap >= best) continue;
    const leafA = a.bvh.count[nodeA] > 0;
    const leafB = b.bvh.count[nodeB] > 0;
    if (leafA && leafB) {
      leaves(nodeA, nodeB);
      continue;
    }
    const openA = !leafA && (leafB || volumeOf(a.bvh, nodeA) >= volumeOf(b.bvh, nodeB));
    const children = openA ? [nodeA + 1, a.bvh.link[nodeA]] : [nodeB + 1, b.bvh.link[nodeB]];
    const pairs = children.map((child): [number, number] => (openA ? [child, nodeB] : [nodeA, child]));
    const gaps = pairs.map(([x, y]) => gapSquared(x, y));
    const far = gaps[0] > gaps[1] ? 0 : 1;
    for (const which of [far, 1 - far]) {
      if (gaps[which] < best) stack.push(pairs[which][0], pairs[which][1], gaps[which]);
    }
  }
  if (!found) return undefined;
  const inTank = (at: number): Vec3 =>
    add(rotate(ra, [found![at], found![at + 1], found![at + 2]]), poseA.offsetM);
  return { distanceM: Math.sqrt(best), onA: inTank(0), onB: inTank(3) };
}
