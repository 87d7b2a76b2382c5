import type { EdgeAdjacency } from './edge-adjacency.ts';
import type { IndexedMesh } from './mesh.ts';

/** How the triangles hang together. */
export interface Topology {
  readonly vertexCount: number;
  readonly edgeCount: number;
  readonly triangleCount: number;
  /** Vertices − edges + triangles that have not collapsed: 2 for a ball, 0 for a ring, summed over separate shells. */
  readonly eulerCharacteristic: number;
  readonly openEdges: number;
  /** Edges with three triangles or more. */
  readonly crowdedEdges: number;
  readonly sameWayEdges: number;
  readonly collapsedTriangles: number;
  /** Parts of the surface that hang together over edges with exactly two triangles. */
  readonly shellCount: number;
  /** Every edge has exactly two triangles that run along it in opposite directions. */
  readonly closed: boolean;
}

export function topologyOf(mesh: IndexedMesh, adjacency: EdgeAdjacency, shellCount: number): Topology {
  const { edgeCount, openEdges, crowdedEdges, sameWayEdges, collapsedTriangles } = adjacency;
  const triangleCount = mesh.triangles.length / 3;
  return {
    vertexCount: mesh.vertices.length / 3,
    edgeCount,
    triangleCount,
    eulerCharacteristic: mesh.vertices.length / 3 - edgeCount + triangleCount - collapsedTriangles,
    openEdges,
    crowdedEdges,
    sameWayEdges,
    collapsedTriangles,
    shellCount,
    closed: edgeCount > 0 && openEdges + crowdedEdges + sameWayEdges === 0,
  };
}
