import type { TriangleRuns } from '../faces/triangle-runs.ts';
import { duplicateTriangles } from './duplicate-triangles.ts';
import { edgeAdjacency } from './edge-adjacency.ts';
import { keepTriangles, type SourcedMesh } from './source-triangles.ts';
import { weld } from './weld.ts';

/** Leaves out the triangles that come from the given ones of the file. */
export function dropSources(mesh: SourcedMesh, sources: TriangleRuns): SourcedMesh {
  const gone = (source: number): boolean => {
    for (let i = 0; i + 1 < sources.length; i += 2)
      if (source >= sources[i] && source < sources[i + 1]) return true;
    return false;
  };
  return keepTriangles(mesh, (t) => !gone(mesh.sourceTriangle[t]));
}

/**
 * Leaves out triangles that lie on an earlier one and face the same way. Two that face opposite ways are the walls of
 * bodies that touch; those go by fusing.
 */
export function dropDoubles(mesh: SourcedMesh): SourcedMesh {
  const doubles = sameWayDoubles(mesh.positions);
  return doubles.size === 0 ? mesh : keepTriangles(mesh, (t) => !doubles.has(t));
}

/** Triangles that lie on an earlier one and face the same way. */
export function sameWayDoubles(positions: Float32Array): ReadonlySet<number> {
  const { vertices, triangles } = weld(positions);
  const { twin } = edgeAdjacency(triangles, vertices.length / 3);
  const candidates = duplicateTriangles(triangles, twin);
  const doubles = new Set<number>();
  if (candidates.length === 0) return doubles;
  const wanted = new Set([...candidates].map((t) => lowestFirst(triangles, t)));
  const firstOf = new Map<string, number>();
  for (let t = 0; t < triangles.length / 3; t++) {
    const key = lowestFirst(triangles, t);
    if (firstOf.has(key)) doubles.add(t);
    else if (wanted.has(key)) firstOf.set(key, t);
  }
  return doubles;
}

/** The three vertices in their turning order, lowest first: the same for two triangles that face the same way. */
function lowestFirst(triangles: Uint32Array, t: number): string {
  const v = [0, 1, 2].map((k) => triangles[3 * t + k]);
  const at = v.indexOf(Math.min(...v));
  return `${v[at]} ${v[(at + 1) % 3]} ${v[(at + 2) % 3]}`;
}

/** Leaves out triangles that use one corner twice: they are lines, and nothing hangs on them. */
export function dropLines(mesh: SourcedMesh): SourcedMesh {
  const { triangles } = weld(mesh.positions);
  return keepTriangles(mesh, (t) => {
    const [a, b, c] = [triangles[3 * t], triangles[3 * t + 1], triangles[3 * t + 2]];
    return a !== b && b !== c && c !== a;
  });
}
