/**
 * Which triangle lies across each edge. Half-edge 3t + k is side k of triangle t, from its corner k to the next.
 */
export interface EdgeAdjacency {
  /** Per half-edge: the half-edge on the other side where exactly two triangles meet, or one of the codes below. */
  readonly twin: Int32Array;
  readonly edgeCount: number;
  /** Edges with one triangle. */
  readonly openEdges: number;
  /** Edges with three triangles or more. */
  readonly crowdedEdges: number;
  /** Edges whose two triangles run along them the same way: one of the two is turned over. */
  readonly sameWayEdges: number;
  /** Triangles with a corner used twice; they have no neighbours. */
  readonly collapsedTriangles: number;
}

export const OPEN_EDGE = -1;
export const CROWDED_EDGE = -2;
export const COLLAPSED_EDGE = -3;

/** True when the two half-edges run the same way, so one of their triangles is turned over. */
export function runSameWay(triangles: Uint32Array, halfEdge: number, twin: number): boolean {
  return triangles[halfEdge] === triangles[twin];
}

/** Above this many half-edges at one vertex they are sorted before they are matched. */
const LONG_BUCKET = 48;

/**
 * Half-edges are put in buckets by their lower vertex with a counting sort, then matched by their higher vertex
 * inside the bucket. Tried: a hash table of vertex pairs, 4 times slower.
 *
 * @param triangles 3 vertex numbers a triangle
 */
export function edgeAdjacency(triangles: Uint32Array, vertexCount: number): EdgeAdjacency {
  if (triangles.length % 3 !== 0) {
    throw new RangeError(`triangles: length must be a multiple of 3, got ${triangles.length}`);
  }
  const halfEdges = triangles.length;
  const twin = new Int32Array(halfEdges);
  const start = new Int32Array(vertexCount + 1);
  let collapsedTriangles = 0;
  for (let h = 0; h < halfEdges; h += 3) {
    const a = triangles[h];
    const b = triangles[h + 1];
    const c = triangles[h + 2];
    if (a >= vertexCount || b >= vertexCount || c >= vertexCount) {
      throw new RangeError(`triangles: vertex number beyond vertexCount ${vertexCount} in triangle ${h / 3}`);
    }
    if (a === b || b === c || c === a) {
      collapsedTriangles++;
      twin[h] = twin[h + 1] = twin[h + 2] = COLLAPSED_EDGE;
      continue;
    }
    start[a < b ? a : b]++;
    start[b < c ? b : c]++;
    start[c < a ? c : a]++;
  }
  let total = 0;
  for (let v = 0; v <= vertexCount; v++) {
    total += start[v];
    start[v] = total;
  }
  // Filled from the back, so that start[v] ends at the beginning of its bucket and each bucket is ascending.
  // A half-edge and its higher vertex, side by side as they are asked for.
  const bucketed = new Int32Array(2 * total);
  for (let h = halfEdges - 3; h >= 0; h -= 3) {
    if (twin[h] === COLLAPSED_EDGE) continue;
    const a = triangles[h];
    const b = triangles[h + 1];
    const c = triangles[h + 2];
    let at = 2 * --start[c < a ? c : a];
    bucketed[at] = h + 2;
    bucketed[at + 1] = c < a ? a : c;
    at = 2 * --start[b < c ? b : c];
    bucketed[at] = h + 1;
    bucketed[at + 1] = b < c ? c : b;
    at = 2 * --start[a < b ? a : b];
    bucketed[at] = h;
    bucketed[at + 1] = a < b ? b : a;
  }
  let edgeCount = 0;
  let openEdges = 0;
  let crowdedEdges = 0;
  let sameWayEdges = 0;
  for (let v = 0; v < vertexCount; v++) {
    const begin = 2 * start[v];
    const end = 2 * start[v + 1];
    const sorted = end - begin > 2 * LONG_BUCKET;
    if (sorted) sortBucketInto(bucketed, begin, end);
    for (let i = begin; i < end; i += 2) {
      const h = bucketed[i];
      if (h < 0) continue;
      edgeCount++;
      const far = bucketed[i + 1];
      let found = 0;
      let partner = -1;
      for (let j = i + 2; j < end; j += 2) {
        if (bucketed[j + 1] !== far) {
          if (sorted) break;
          continue;
        }
        found++;
        const other = bucketed[j];
        bucketed[j] = -1;
        if (found === 1) partner = other;
        else {
          twin[other] = CROWDED_EDGE;
          twin[partner] = CROWDED_EDGE;
        }
      }
      if (found === 0) {
        twin[h] = OPEN_EDGE;
        openEdges++;
      } else if (found === 1) {
        twin[h] = partner;
        twin[partner] = h;
        if (triangles[h] === triangles[partner]) sameWayEdges++;
      } else {
        twin[h] = CROWDED_EDGE;
        crowdedEdges++;
      }
    }
  }
  return { twin, edgeCount, openEdges, crowdedEdges, sameWayEdges, collapsedTriangles };
}

/** Sorts one bucket by higher vertex, then by half-edge: the hub of a fan would otherwise cost the square of its spokes. */
function sortBucketInto(bucketed: Int32Array, begin: number, end: number): void {
  // Vertex and place in the bucket in one float64: exact below 2^53.
  const size = (end - begin) / 2;
  const keys = new Float64Array(size);
  for (let i = 0; i < size; i++) keys[i] = bucketed[begin + 2 * i + 1] * size + i;
  keys.sort();
  const before = bucketed.slice(begin, end);
  for (let i = 0; i < size; i++) {
    const place = keys[i] % size;
    bucketed[begin + 2 * i] = before[2 * place];
    bucketed[begin + 2 * i + 1] = before[2 * place + 1];
  }
}
