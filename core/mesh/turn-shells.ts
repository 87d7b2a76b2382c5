import { edgeAdjacency, runSameWay } from './edge-adjacency.ts';
import { boundsOf } from './bounds.ts';
import { signedVolumes } from './signed-volume.ts';
import type { SourcedMesh } from './source-triangles.ts';
import { surfaceArea } from './surface-area.ts';
import { weld } from './weld.ts';
import { windingNumber } from './winding-number.ts';

/**
 * Turns triangles so that every shell is all one way round, as most of its area was, and so that closed shells face
 * outwards, also what lies loose in a void. A shell inside metal (the wall of a void) stays as it is, or turns with the
 * shell round it. Order and sources stay.
 */
export function turnShells(mesh: SourcedMesh): SourcedMesh {
  const indexed = weld(mesh.positions);
  const { triangles } = indexed;
  const total = triangles.length / 3;
  const { twin } = edgeAdjacency(triangles, indexed.vertices.length / 3);
  const shell = new Int32Array(total).fill(-1);
  const turned = new Uint8Array(total);
  const shells: number[][] = [];
  const closed: boolean[] = [];
  for (let first = 0; first < total; first++) {
    if (shell[first] >= 0) continue;
    const own = shells.length;
    const members = [first];
    shell[first] = own;
    let isClosed = true;
    for (let i = 0; i < members.length; i++) {
      const t = members[i];
      for (let h = 3 * t; h < 3 * t + 3; h++) {
        if (twin[h] < 0) {
          isClosed = false;
          continue;
        }
        const u = (twin[h] / 3) | 0;
        if (shell[u] >= 0) continue;
        shell[u] = own;
        turned[u] = runSameWay(triangles, h, twin[h]) ? 1 - turned[t] : turned[t];
        members.push(u);
      }
    }
    const areaOf = (side: number): number =>
      members.reduce((sum, t) => sum + (turned[t] === side ? triangleArea(mesh.positions, t) : 0), 0);
    if (members.some((t) => turned[t] === 1) && areaOf(1) > areaOf(0)) {
      for (const t of members) turned[t] = 1 - turned[t];
    }
    shells.push(members);
    closed.push(isClosed);
  }
  const consistent = turnedOver(mesh.positions, turned);
  const from = boundsOf(consistent).min;
  const volumes = signedVolumes(consistent, from, { of: Uint32Array.from(shell), count: shells.length });
  const inside = (inner: number, outer: number): boolean => {
    const at = 9 * shells[inner][0];
    const around = windingNumber(
      consistent,
      shells[outer],
      consistent[at],
      consistent[at + 1],
      consistent[at + 2],
    );
    return Math.abs(around) > 0.5;
  };
  const size = volumes.map(Math.abs);
  const closedShells = shells.map((_, s) => s).filter((s) => closed[s] && size[s] > 0);
  const flips = new Set<number>();
  // From the largest in: what is around a shell has been settled before it.
  for (const s of closedShells.sort((a, b) => size[b] - size[a])) {
    const around = closedShells.filter((o) => size[o] > size[s] && inside(s, o));
    const home = around.sort((a, b) => size[a] - size[b])[0];
    const inBath = home === undefined || volumes[home] < 0 !== flips.has(home);
    if (inBath ? volumes[s] < 0 : flips.has(home)) flips.add(s);
  }
  for (const s of flips) for (const t of shells[s]) turned[t] = 1 - turned[t];
  if (!turned.includes(1)) return mesh;
  return { positions: turnedOver(mesh.positions, turned), sourceTriangle: mesh.sourceTriangle };
}

function triangleArea(positions: Float32Array, t: number): number {
  return surfaceArea(positions.subarray(9 * t, 9 * t + 9));
}

function turnedOver(positions: Float32Array, turned: Uint8Array): Float32Array {
  const out = positions.slice();
  for (let t = 0; t < turned.length; t++) {
    if (turned[t] === 0) continue;
    for (let k = 0; k < 3; k++) {
      out[9 * t + 3 + k] = positions[9 * t + 6 + k];
      out[9 * t + 6 + k] = positions[9 * t + 3 + k];
    }
  }
  return out;
}
