import type { PartGeometry } from '../../core/mesh/part-geometry.ts';

/**
 * Words for meshes: the same for the same triangles, in this window and the next, another for others. Each mesh is gone
 * over once (FNV-1a over its words, twice from different beginnings, 64 bit together).
 */
export function createMeshKeys(): (geometry: Pick<PartGeometry, 'positions'>) => string {
  const keys = new WeakMap<Float32Array, string>();
  return ({ positions }) => {
    const known = keys.get(positions);
    if (known !== undefined) return known;
    const words = new Uint32Array(positions.buffer, positions.byteOffset, positions.length);
    let one = 0x811c9dc5;
    let two = 0x2f0b4c47;
    for (let i = 0; i < words.length; i++) {
      one = Math.imul(one ^ words[i]!, 0x01000193);
      two = Math.imul(two ^ words[i]!, 0x85ebca6b);
      two ^= two >>> 13;
    }
    const key = `${positions.length / 9} triangles ${(one >>> 0).toString(36)} ${(two >>> 0).toString(36)}`;
    keys.set(positions, key);
    return key;
  };
}
