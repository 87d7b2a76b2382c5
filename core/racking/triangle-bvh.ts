/**
 * Boxes around boxes around triangles, for rays and distances. Split at the middle of the longest side of the
 * centres' box, which builds several times faster than a surface-area heuristic and is as good for the few thousand
 * queries a part gets; a side left empty falls back to halving the list.
 */
export interface TriangleBvh {
  /** Six numbers a node: min x y z, max x y z. Node 0 is the root. */
  readonly bounds: Float64Array;
  /** Leaf: first place in `order`. Inner node: the right child; the left one is the next node. */
  readonly link: Uint32Array;
  /** Triangles in the leaf, 0 for an inner node. */
  readonly count: Uint16Array;
  /** Triangle numbers, leaf by leaf. */
  readonly order: Uint32Array;
}

const LEAF = 6;

/**
 * @param vertices three coordinates a vertex
 * @param triangles three vertex numbers a triangle
 */
export function buildTriangleBvh(vertices: ArrayLike<number>, triangles: Uint32Array): TriangleBvh {
  const triangleCount = triangles.length / 3;
  if (!Number.isInteger(triangleCount)) {
    throw new RangeError(
      `buildTriangleBvh: triangles.length is ${triangles.length}, not a multiple of three`,
    );
  }
  const boxes = new Float64Array(triangleCount * 6);
  for (let t = 0; t < triangleCount; t++) {
    const a = triangles[3 * t]! * 3;
    const b = triangles[3 * t + 1]! * 3;
    const c = triangles[3 * t + 2]! * 3;
    for (let k = 0; k < 3; k++) {
      const p = vertices[a + k]!;
      const q = vertices[b + k]!;
      const r = vertices[c + k]!;
      boxes[6 * t + k] = Math.min(p, q, r);
      boxes[6 * t + 3 + k] = Math.max(p, q, r);
    }
  }
  const order = new Uint32Array(triangleCount);
  for (let t = 0; t < triangleCount; t++) order[t] = t;
  const most = Math.max(1, 2 * triangleCount);
  const bounds = new Float64Array(6 * most);
  const link = new Uint32Array(most);
  const count = new Uint16Array(most);
  let nodes = 0;

  function build(start: number, end: number): void {
    const node = nodes++;
    const at = 6 * node;
    let [minX, minY, minZ, maxX, maxY, maxZ] = [
      Infinity,
      Infinity,
      Infinity,
      -Infinity,
      -Infinity,
      -Infinity,
    ];
    let [lowX, lowY, lowZ, highX, highY, highZ] = [
      Infinity,
      Infinity,
      Infinity,
      -Infinity,
      -Infinity,
      -Infinity,
    ];
    for (let i = start; i < end; i++) {
      const b = 6 * order[i]!;
      const [x0, y0, z0] = [boxes[b]!, boxes[b + 1]!, boxes[b + 2]!];
      const [x1, y1, z1] = [boxes[b + 3]!, boxes[b + 4]!, boxes[b + 5]!];
      if (x0 < minX) minX = x0;
      if (y0 < minY) minY = y0;
      if (z0 < minZ) minZ = z0;
      if (x1 > maxX) maxX = x1;
      if (y1 > maxY) maxY = y1;
      if (z1 > maxZ) maxZ = z1;
      const [cx, cy, cz] = [x0 + x1, y0 + y1, z0 + z1];
      if (cx < lowX) lowX = cx;
      if (cy < lowY) lowY = cy;
      if (cz < lowZ) lowZ = cz;
      if (cx > highX) highX = cx;
      if (cy > highY) highY = cy;
      if (cz > highZ) highZ = cz;
    }
    bounds[at] = minX;
    bounds[at + 1] = minY;
    bounds[at + 2] = minZ;
    bounds[at + 3] = maxX;
    bounds[at + 4] = maxY;
    bounds[at + 5] = maxZ;
    if (end - start <= LEAF) {
      link[node] = start;
      count[node] = end - start;
      return;
    }
    const [wx, wy, wz] = [highX - lowX, highY - lowY, highZ - lowZ];
    const axis = wx >= wy && wx >= wz ? 0 : wy >= wz ? 1 : 2;
    const middle = axis === 0 ? lowX + highX : axis === 1 ? lowY + highY : lowZ + highZ;
    let i = start;
    let j = end - 1;
    while (i <= j) {
      const b = 6 * order[i]! + axis;
      if (2 * (boxes[b]! + boxes[b + 3]!) < middle) i++;
      else {
        const swap = order[i]!;
        order[i] = order[j]!;
        order[j--] = swap;
      }
    }
    const split = i === start || i === end ? (start + end) >> 1 : i;
    build(start, split);
    link[node] = nodes;
    build(split, end);
  }
  if (triangleCount > 0) build(0, triangleCount);
  else count[0] = 0;
  return {
    bounds: bounds.slice(0, 6 * Math.max(1, nodes)),
    link: link.slice(0, Math.max(1, nodes)),
    count: count.slice(0, Math.max(1, nodes)),
    order,
  };
}
