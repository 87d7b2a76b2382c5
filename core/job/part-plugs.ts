import { COVERAGE_BITS } from '../faces/coverage-flags.ts';
import { faceRow } from '../faces/face-table.ts';
import { WIDEST_PLUG_M } from '../finish/mask-list.ts';
import type { RoundFeature } from '../finish/round-features.ts';
import type { PartGeometry } from '../mesh/part-geometry.ts';
import type { Plugs } from '../racking/plugs.ts';

/**
 * The plugs of a part: a bore that is masked gets one (finish/mask-list.ts). A bore that is masked in part, slit or wider than plugs
 * are sold, stays open.
 * @param flags coverage per triangle, see faces/coverage-flags.ts
 * @returns null where no bore has a plug
 */
export function plugsOf(
  geometry: Pick<PartGeometry, 'faces'>,
  rounds: readonly RoundFeature[],
  flags: Uint8Array,
): Plugs | null {
  const boreOfRow = new Map<number, number>();
  rounds.forEach(({ shape, slit, diameterM, faceIds }, index) => {
    if (shape !== 'hole' || slit || diameterM > WIDEST_PLUG_M) return;
    for (const id of faceIds) boreOfRow.set(faceRow(id)!, index);
  });
  if (boreOfRow.size === 0) return null;
  const { faceOfTriangle } = geometry.faces;
  const plugged = new Set(boreOfRow.values());
  for (let t = 0; t < faceOfTriangle.length; t++) {
    if ((flags[t]! & COVERAGE_BITS.mask) === 0) plugged.delete(boreOfRow.get(faceOfTriangle[t]!) ?? -1);
  }
  if (plugged.size === 0) return null;
  const onTriangle = new Uint8Array(faceOfTriangle.length);
  for (let t = 0; t < faceOfTriangle.length; t++) {
    if (plugged.has(boreOfRow.get(faceOfTriangle[t]!) ?? -1)) onTriangle[t] = 1;
  }
  return { onTriangle, count: plugged.size, key: [...plugged].sort((a, b) => a - b).join(' ') };
}
