import { nextSide } from './half-edges.ts';
import { CROWDED_EDGE, edgeAdjacency, type EdgeAdjacency } from './edge-adjacency.ts';
import type { IndexedMesh } from './mesh.ts';

/**
 * Angles closer than this, rad, are one direction: triangles that lie on each other, or two walls of one round face whose
 * facets run over other corners. Metal that ends in an edge sharper than this does not exist.
 */
const SAME_DIRECTION = 0.02;

/**
 * Bodies that touch share edges once their corners are joined, so that four triangles meet there. Going round such an
 * edge, each triangle belongs with the next one on the far side of its own metal: so they are paired. What finds no
 * partner stays crowded.
 *
 * @param bodyOf per triangle, where the file says which body it belongs to: those of one body are paired first
 */
export function pairedAdjacency(mesh: IndexedMesh, bodyOf?: Uint32Array): EdgeAdjacency {
  const { vertices, triangles } = mesh;
  const adjacency = edgeAdjacency(triangles, vertices.length / 3);
  const { twin } = adjacency;
  const crowded: number[] = [];
  for (let h = 0; h < twin.length; h++) if (twin[h] === CROWDED_EDGE) crowded.push(h);
  if (crowded.length === 0) return adjacency;
  const vertexCount = vertices.length / 3;
  const ends = (h: number): [number, number] => [triangles[h], triangles[nextSide(h)]];
  const key = (h: number): number => {
    const [a, b] = ends(h);
    return Math.min(a, b) * vertexCount + Math.max(a, b);
  };
  crowded.sort((a, b) => key(a) - key(b) || a - b);
  const edges: number[][] = [];
  for (let begin = 0; begin < crowded.length;) {
    let end = begin + 1;
    while (end < crowded.length && key(crowded[end]) === key(crowded[begin])) end++;
    const edge = crowded.slice(begin, end);
    for (const own of bodyOf ? byBody(edge, bodyOf) : []) {
      pairRoundEdgeInto(twin, vertices, triangles, own, ends);
    }
    const left = edge.filter((h) => twin[h] === CROWDED_EDGE);
    if (left.length > 0) pairRoundEdgeInto(twin, vertices, triangles, left, ends);
    edges.push(edge);
    begin = end;
  }
  let pairs = 0;
  let crowdedEdges = 0;
  for (const edge of edges) {
    const paired = edge.filter((h) => twin[h] >= 0).length / 2;
    pairs += paired;
    if (2 * paired < edge.length) crowdedEdges += 1;
  }
  const edgeCount = adjacency.edgeCount - adjacency.crowdedEdges + pairs + crowdedEdges;
  return { ...adjacency, edgeCount, crowdedEdges };
}

function byBody(halfEdges: readonly number[], bodyOf: Uint32Array): number[][] {
  const groups = new Map<number, number[]>();
  for (const h of halfEdges) {
    const body = bodyOf[(h / 3) | 0];
    const group = groups.get(body);
    if (group) group.push(h);
    else groups.set(body, [h]);
  }
  return [...groups.values()];
}

function pairRoundEdgeInto(
  twin: Int32Array,
  vertices: Float32Array,
  triangles: Uint32Array,
  halfEdges: readonly number[],
  ends: (h: number) => [number, number],
): void {
  const [a, b] = ends(halfEdges[0]);
  const low = 3 * Math.min(a, b);
  const high = 3 * Math.max(a, b);
  const axis = [0, 1, 2].map((k) => vertices[high + k] - vertices[low + k]);
  const length2 = axis[0] ** 2 + axis[1] ** 2 + axis[2] ** 2;
  const across = halfEdges.map((h) => {
    const apex = 3 * triangles[h % 3 === 0 ? h + 2 : h - 1];
    const arm = [0, 1, 2].map((k) => vertices[apex + k] - vertices[low + k]);
    const along = (arm[0] * axis[0] + arm[1] * axis[1] + arm[2] * axis[2]) / length2;
    return arm.map((value, k) => value - along * axis[k]);
  });
  const u = across[0];
  const v = [
    axis[1] * u[2] - axis[2] * u[1],
    axis[2] * u[0] - axis[0] * u[2],
    axis[0] * u[1] - axis[1] * u[0],
  ].map((value) => value / Math.sqrt(length2));
  const angle = across.map((d) =>
    Math.atan2(d[0] * v[0] + d[1] * v[1] + d[2] * v[2], d[0] * u[0] + d[1] * u[1] + d[2] * u[2]),
  );
  // A triangle that runs along the edge from low to high has its metal towards smaller angles, the others towards larger.
  const forward = halfEdges.map((h) => ends(h)[0] * 3 === low);
  const pairs: { f: number; g: number; wedge: number }[] = [];
  halfEdges.forEach((_, f) => {
    if (!forward[f]) return;
    halfEdges.forEach((__, g) => {
      if (forward[g]) return;
      const turn = angle[f] - angle[g];
      const wedge = turn - 2 * Math.PI * Math.floor(turn / (2 * Math.PI));
      // Back to back, the metal is not the nothing between the two but all the way round.
      const none = wedge < SAME_DIRECTION || wedge > 2 * Math.PI - SAME_DIRECTION;
      pairs.push({ f, g, wedge: none ? 2 * Math.PI : wedge });
    });
  });
  pairs.sort((p, q) => p.wedge - q.wedge);
  const taken = new Set<number>();
  for (const { f, g } of pairs) {
    if (taken.has(f) || taken.has(g)) continue;
    taken.add(f).add(g);
    twin[halfEdges[f]] = halfEdges[g];
    twin[halfEdges[g]] = halfEdges[f];
  }
}
