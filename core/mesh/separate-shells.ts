import { flattenSetsInto, joinSets, singleSets } from './disjoint-sets.ts';
import { COLLAPSED_EDGE, CROWDED_EDGE, edgeAdjacency, runSameWay } from './edge-adjacency.ts';
import type { IndexedMesh } from './mesh.ts';

/** A mesh taken apart into the shells that bound metal, also where they share corners and edges. */
export interface SeparateShells {
  readonly count: number;
  /** Per triangle: its shell, in order of their lowest triangle; NO_SHELL for one that has collapsed. */
  readonly ofTriangle: Uint32Array;
  /** Per shell: 1 where it is closed and all one way round. */
  readonly sound: Uint8Array;
  /** Per half-edge: the one on the other side, or below 0. Three triangles and more at an edge are paired. */
  readonly twin: Int32Array;
}

export const NO_SHELL = 0xffffffff;

/**
 * Bodies that touch share edges once their corners are joined, so that four triangles meet there. Going round such an
 * edge, each triangle belongs with the next one on the far side of its own metal; that pairing gives the bodies back.
 */
export function separateShells(mesh: IndexedMesh): SeparateShells {
  const { triangles } = mesh;
  const total = triangles.length / 3;
  const twin = edgeAdjacency(triangles, mesh.vertices.length / 3).twin.slice();
  pairCrowdedInto(twin, mesh);
  const parent = singleSets(total);
  for (let h = 0; h < twin.length; h++) {
    if (twin[h] > h) joinSets(parent, (h / 3) | 0, (twin[h] / 3) | 0);
  }
  flattenSetsInto(parent);
  const ofTriangle = new Uint32Array(total);
  let count = 0;
  for (let t = 0; t < total; t++) {
    if (twin[3 * t] === COLLAPSED_EDGE) ofTriangle[t] = NO_SHELL;
    else ofTriangle[t] = parent[t] === t ? count++ : ofTriangle[parent[t]];
  }
  const sound = new Uint8Array(count).fill(1);
  for (let h = 0; h < twin.length; h++) {
    const shell = ofTriangle[(h / 3) | 0];
    if (shell !== NO_SHELL && (twin[h] < 0 || runSameWay(triangles, h, twin[h]))) sound[shell] = 0;
  }
  return { count, ofTriangle, sound, twin };
}

/** Angles closer than this, rad, are one direction: triangles that lie on each other. */
const SAME_DIRECTION = 1e-4;

function pairCrowdedInto(twin: Int32Array, { vertices, triangles }: IndexedMesh): void {
  const crowded: number[] = [];
  for (let h = 0; h < twin.length; h++) if (twin[h] === CROWDED_EDGE) crowded.push(h);
  if (crowded.length === 0) return;
  const vertexCount = vertices.length / 3;
  const ends = (h: number): [number, number] => [triangles[h], triangles[h % 3 === 2 ? h - 2 : h + 1]];
  const key = (h: number): number => {
    const [a, b] = ends(h);
    return Math.min(a, b) * vertexCount + Math.max(a, b);
  };
  crowded.sort((a, b) => key(a) - key(b) || a - b);
  for (let begin = 0; begin < crowded.length;) {
    let end = begin + 1;
    while (end < crowded.length && key(crowded[end]) === key(crowded[begin])) end++;
    pairRoundEdgeInto(twin, vertices, triangles, crowded.slice(begin, end), ends);
    begin = end;
  }
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
