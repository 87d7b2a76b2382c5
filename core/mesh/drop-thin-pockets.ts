import { boundsOf } from './bounds.ts';
import { NO_SHELL, separateShells } from './separate-shells.ts';
import { signedVolumes } from './signed-volume.ts';
import { keepTriangles, type SourcedMesh } from './source-triangles.ts';
import { surfaceArea } from './surface-area.ts';
import { weld } from './weld.ts';

/**
 * Mean width, as a share of the part's size, below which a closed pocket in fused metal is none: 0.03 mm in 300 mm. A
 * pin in its hole leaves such pockets, where the facets of one wall and of the other do not run over the same corners.
 */
const THIN_SHARE = 1e-4;

/** Leaves out the walls of closed pockets so thin that only the drawing has them. Wider voids stay. */
export function dropThinPockets(mesh: SourcedMesh): SourcedMesh {
  const { positions } = mesh;
  const shells = separateShells(weld(positions));
  if (shells.count < 2) return mesh;
  const { min, max } = boundsOf(positions);
  const size = Math.hypot(...max.map((high, k) => high - min[k]));
  const of = shells.ofTriangle.map((shell) => (shell === NO_SHELL ? shells.count : shell));
  const volumes = signedVolumes(positions, min, { of, count: shells.count + 1 });
  const areas = new Float64Array(shells.count + 1);
  of.forEach((shell, t) => (areas[shell] += surfaceArea(positions.subarray(9 * t, 9 * t + 9))));
  const isThin = (shell: number): boolean =>
    shells.sound[shell] === 1 && volumes[shell] < 0 && -2 * volumes[shell] < THIN_SHARE * size * areas[shell];
  const thin = Uint8Array.from({ length: shells.count }, (_, shell) => (isThin(shell) ? 1 : 0));
  return keepTriangles(mesh, (t) => of[t] === shells.count || thin[of[t]] === 0);
}
