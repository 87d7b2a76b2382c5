import Module, { type Manifold } from 'manifold-3d';
import type { IndexedMesh } from '../../../core/mesh/mesh.ts';
import { weld } from '../../../core/mesh/weld.ts';
import { prepareTrapMesh, type TrapMesh } from '../../../core/racking/trap-mesh.ts';

/** The reference kernel that makes the test parts. */
export async function startManifold() {
  const kernel = await Module();
  kernel.setup();
  return kernel;
}

/** As it would come from a file: loose triangles in single precision, then welded. */
export function meshOf(solid: Manifold): IndexedMesh {
  return weld(soupOf(solid));
}

export function soupOf(solid: Manifold): Float32Array {
  const mesh = solid.getMesh();
  const positions = new Float32Array(mesh.triVerts.length * 3);
  mesh.triVerts.forEach((vertex, corner) => {
    for (let k = 0; k < 3; k++) positions[3 * corner + k] = mesh.vertProperties[vertex * mesh.numProp + k];
  });
  return positions;
}

export function trapMeshOf(mesh: IndexedMesh): TrapMesh {
  const prepared = prepareTrapMesh(mesh);
  if (!prepared.ok) throw new Error(prepared.error.message);
  return prepared.value;
}

/** Deterministic numbers in 0 … 1 (mulberry32, public domain). */
export function seeded(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}
