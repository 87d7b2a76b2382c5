import type { HeightOrder } from './height-order.ts';
import type { TrapMesh } from './trap-mesh.ts';
import type { Vec3 } from './vec3.ts';

/**
 * Pockets of the open space around a part from which everything lighter than the liquid cannot leave: the space at
 * and above a height is followed from the top down, and a pocket is closed at the height where it first joins the
 * outside. With the heights turned over the same sweep finds the cups that hold liquid.
 *
 * The space is followed through the surface alone. Two pieces of surface above a height bound the same space when
 * they are joined along the surface above that height, or when one of them has metal below its highest point: the
 * vertical from that point then first meets the surface that bounds the same space higher up, or nothing, which is
 * the outside. A bounded space has exactly one piece of surface whose highest point has metal above it (were there two,
 * each would have to lie under the other), so these two rules join everything that belongs together. Exact on the
 * mesh; no grid, no sampling.
 */
export interface PocketSweep {
  /** Per vertex: pocket number, or −1 (open), or −2 − n for a void n without any way out. */
  readonly pocketOfVertex: Int32Array;
  readonly pockets: readonly SweptPocket[];
  readonly voidCount: number;
}

export interface SweptPocket {
  /** Key of the height at which it opens. */
  readonly levelKey: number;
  /** Where it opens. */
  readonly spillVertex: number;
  /** Its highest point. */
  readonly peakVertex: number;
}

/** What the sweep knows on its way, for `watch`. */
export interface SweepState {
  /** Representative vertex of the joined space that a passed vertex belongs to. */
  find(vertex: number): number;
  isOutside(representative: number): boolean;
  passed(vertex: number): boolean;
  /** All vertices joined with `vertex` so far. */
  members(vertex: number): number[];
}

export interface SweepWatch {
  /** Called just before the vertices of these places in the order are taken in; ascending. */
  readonly places: readonly number[];
  visit(index: number, state: SweepState): void;
}

/** The same heights seen from below: highest becomes lowest. */
export function turnedOver(heights: HeightOrder): HeightOrder {
  const top = heights.key[heights.order[0]!]!;
  const key = heights.key.map((k) => top - k);
  return {
    ...heights,
    key,
    base: -(heights.base + top * heights.step),
    order: heights.order.slice().reverse(),
  };
}

/**
 * @param up the direction along which `heights` was taken, unit length
 */
export function sweepPockets(
  mesh: TrapMesh,
  heights: HeightOrder,
  up: Vec3,
  watch?: SweepWatch,
): PocketSweep {
  const { key, order } = heights;
  const { neighbourStart, neighbours, vertexNormals, vertexCount } = mesh;
  const leastKeys = mesh.leastDepth / heights.step;
  const parent = new Int32Array(vertexCount).fill(-1);
  const weight = new Int32Array(vertexCount).fill(1);
  const nodeOfRoot = new Int32Array(vertexCount);
  const nodeOfVertex = new Int32Array(vertexCount);
  const next = watch ? new Int32Array(vertexCount) : undefined;
  // Node 0 is the outside. A node is a space as it was between two joinings.
  const nodeParent = [-1];
  const nodePeak = [-1];
  const nodeSealKey = [-1];
  const nodeSpill = [-1];
  const nodeJoinKey = [-1];
  const nodeChildren: (readonly [number, number] | null)[] = [null];

  const find = (vertex: number): number => {
    let root = vertex;
    while (parent[root] !== root) root = parent[root]!;
    while (parent[vertex] !== root) {
      const above = parent[vertex]!;
      parent[vertex] = root;
      vertex = above;
    }
    return root;
  };
  const addNode = (peak: number, joinKey: number, children: readonly [number, number] | null): number => {
    nodeParent.push(-1);
    nodePeak.push(peak);
    nodeSealKey.push(-1);
    nodeSpill.push(-1);
    nodeJoinKey.push(joinKey);
    nodeChildren.push(children);
    return nodeParent.length - 1;
  };
  const seal = (node: number, vertex: number): number => {
    nodeSealKey[node] = key[vertex]!;
    nodeSpill[node] = vertex;
    return 0;
  };
  const joinNodes = (a: number, b: number, vertex: number): number => {
    if (a === b) return a;
    if (a === 0) return seal(b, vertex);
    if (b === 0) return seal(a, vertex);
    const high = key[nodePeak[a]!]! >= key[nodePeak[b]!]! ? a : b;
    const low = high === a ? b : a;
    if (key[nodePeak[low]!]! - key[vertex]! < leastKeys) {
      nodeParent[low] = high;
      return high;
    }
    const joined = addNode(nodePeak[high]!, key[vertex]!, [high, low]);
    nodeParent[high] = joined;
    nodeParent[low] = joined;
    return joined;
  };
  const join = (a: number, b: number, vertex: number): number => {
    const node = joinNodes(nodeOfRoot[a]!, nodeOfRoot[b]!, vertex);
    const [big, small] = weight[a]! >= weight[b]! ? [a, b] : [b, a];
    parent[small] = big;
    weight[big]! += weight[small]!;
    nodeOfRoot[big] = node;
    if (next) {
      const swap = next[big]!;
      next[big] = next[small]!;
      next[small] = swap;
    }
    return big;
  };
  const attach = (vertex: number, root: number): void => {
    parent[vertex] = root;
    weight[root]! += 1;
    nodeOfVertex[vertex] = nodeOfRoot[root]!;
    if (next) {
      next[vertex] = next[root]!;
      next[root] = vertex;
    }
  };

  const cast = createUpwardCaster(mesh, heights, up);
  const state: SweepState = {
    find,
    isOutside: (representative) => nodeOfRoot[representative] === 0,
    passed: (vertex) => parent[vertex]! >= 0,
    members(vertex) {
      const list = [vertex];
      for (let v = next![vertex]!; v !== vertex; v = next![v]!) list.push(v);
      return list;
    },
  };
  let watched = 0;
  for (let place = 0; place < vertexCount; place++) {
    while (watch && watched < watch.places.length && watch.places[watched] === place) {
      watch.visit(watched++, state);
    }
    const vertex = order[place]!;
    let root = -1;
    for (let i = neighbourStart[vertex]!; i < neighbourStart[vertex + 1]!; i++) {
      const neighbour = neighbours[i]!;
      if (parent[neighbour]! < 0) continue;
      const other = find(neighbour);
      if (root < 0) {
        root = other;
        attach(vertex, root);
      } else if (other !== root) root = join(root, other, vertex);
    }
    if (root >= 0) continue;
    // Nothing of the surface around it is higher: metal below it, or a ceiling.
    const normalUp =
      vertexNormals[3 * vertex]! * up[0] +
      vertexNormals[3 * vertex + 1]! * up[1] +
      vertexNormals[3 * vertex + 2]! * up[2];
    const above = normalUp > 0 ? cast(vertex) : -1;
    if (above >= 0 && parent[above]! >= 0) attach(vertex, find(above));
    else {
      parent[vertex] = vertex;
      if (next) next[vertex] = vertex;
      nodeOfRoot[vertex] = normalUp > 0 ? 0 : addNode(vertex, -1, null);
      nodeOfVertex[vertex] = nodeOfRoot[vertex]!;
    }
  }

  const pockets: SweptPocket[] = [];
  const pocketOfNode = new Int32Array(nodeParent.length).fill(-1);
  const settled = new Uint8Array(nodeParent.length);
  settled[0] = 1;
  const settle = (node: number, levelKey: number, spillVertex: number): void => {
    settled[node] = 1;
    const peakVertex = nodePeak[node]!;
    if (key[peakVertex]! - levelKey < leastKeys) return;
    const children = nodeChildren[node]!;
    // Spaces that join only at the very height at which they open are apart: two holes in one flat face.
    if (children && nodeJoinKey[node]! - levelKey < leastKeys) {
      for (const child of children) settle(child, levelKey, spillVertex);
      return;
    }
    pocketOfNode[node] = pockets.length;
    pockets.push({ levelKey, spillVertex, peakVertex });
  };
  let voidCount = 0;
  for (let node = nodeParent.length - 1; node > 0; node--) {
    if (nodeSealKey[node]! >= 0) settle(node, nodeSealKey[node]!, nodeSpill[node]!);
    else if (nodeParent[node]! < 0) {
      settled[node] = 1;
      pocketOfNode[node] = -2 - voidCount++;
    }
  }
  const pocketOf = (node: number): number => {
    let at = node;
    while (!settled[at]) at = nodeParent[at]!;
    for (let n = node; !settled[n]; n = nodeParent[n]!) {
      settled[n] = 1;
      pocketOfNode[n] = pocketOfNode[at]!;
    }
    return pocketOfNode[at]!;
  };
  const pocketOfVertex = new Int32Array(vertexCount);
  for (let v = 0; v < vertexCount; v++) pocketOfVertex[v] = pocketOf(nodeOfVertex[v]!);
  return { pocketOfVertex, pockets, voidCount };
}

/**
 * Casts straight up from a vertex. Gives the highest corner of the first triangle met, or −1. A line through an edge
 * or a corner meets the triangles on both sides of it (the same two products decide for both), so nothing leaks.
 */
function createUpwardCaster(mesh: TrapMesh, heights: HeightOrder, up: Vec3): (vertex: number) => number {
  const { vertices, triangles, bvh } = mesh;
  const { key, acrossX, acrossY } = heights;
  const inverse = up.map((u) => 1 / u);
  const flat = up.map((u) => Math.abs(u) < 1e-12);
  const pad = 1e-9 * mesh.size;
  const stack: number[] = [];

  return (vertex) => {
    const from = [vertices[3 * vertex]!, vertices[3 * vertex + 1]!, vertices[3 * vertex + 2]!];
    const px = acrossX[vertex]!;
    const py = acrossY[vertex]!;
    const floor = key[vertex]! + 0.5;
    let bestKey = Infinity;
    let best = -1;
    let farthest = Infinity;
    const enter = (node: number): boolean => {
      let near = -pad;
      let far = farthest;
      for (let k = 0; k < 3; k++) {
        const low = bvh.bounds[6 * node + k]! - pad - from[k]!;
        const high = bvh.bounds[6 * node + 3 + k]! + pad - from[k]!;
        if (flat[k]) {
          if (low > 0 || high < 0) return false;
          continue;
        }
        const a = low * inverse[k]!;
        const b = high * inverse[k]!;
        near = Math.max(near, Math.min(a, b));
        far = Math.min(far, Math.max(a, b));
      }
      return near <= far;
    };
    stack.length = 0;
    stack.push(0);
    while (stack.length > 0) {
      const node = stack.pop()!;
      if (!enter(node)) continue;
      const leafCount = bvh.count[node]!;
      if (leafCount === 0) {
        stack.push(node + 1, bvh.link[node]!);
        continue;
      }
      for (let i = bvh.link[node]!; i < bvh.link[node]! + leafCount; i++) {
        const t = 3 * bvh.order[i]!;
        const a = triangles[t]!;
        const b = triangles[t + 1]!;
        const c = triangles[t + 2]!;
        const ax = acrossX[a]! - px;
        const ay = acrossY[a]! - py;
        const bx = acrossX[b]! - px;
        const by = acrossY[b]! - py;
        const cx = acrossX[c]! - px;
        const cy = acrossY[c]! - py;
        const ofC = ax * by - ay * bx;
        const ofA = bx * cy - by * cx;
        const ofB = cx * ay - cy * ax;
        if (!((ofA >= 0 && ofB >= 0 && ofC >= 0) || (ofA <= 0 && ofB <= 0 && ofC <= 0))) continue;
        const sum = ofA + ofB + ofC;
        if (sum === 0) continue;
        const met = (ofA * key[a]! + ofB * key[b]! + ofC * key[c]!) / sum;
        if (met <= floor || met >= bestKey) continue;
        bestKey = met;
        best = key[a]! >= key[b]! && key[a]! >= key[c]! ? a : key[b]! >= key[c]! ? b : c;
        farthest = (met - key[vertex]!) * heights.step + pad;
      }
    }
    return best;
  };
}
