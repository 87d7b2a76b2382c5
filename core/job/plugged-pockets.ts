import { COVERAGE_BITS } from '../faces/coverage-flags.ts';
import { faceRow } from '../faces/face-table.ts';
import { WIDEST_PLUG_M } from '../finish/mask-list.ts';
import type { RoundFeature } from '../finish/round-features.ts';
import type { PartGeometry } from '../mesh/part-geometry.ts';
import type { Pocket, Traps } from '../racking/find-traps.ts';

/** A drill's tip and a thread beside the plain cylinder. */
const MORE_THAN_BORE = 1.2;

/**
 * Traps without those in masked bores: a bore that is masked gets a plug (finish/mask-list.ts), and nothing stands under one. A
 * bore that is lacquered or taped inside, slit or wider than plugs are sold, stays hollow; so does a larger hollow that a plugged
 * bore only opens into.
 * @param flags coverage per triangle, see faces/coverage-flags.ts
 */
export function withoutPlugged(
  traps: Traps,
  geometry: Pick<PartGeometry, 'faces'>,
  rounds: readonly RoundFeature[],
  flags: Uint8Array,
  metresPerUnit: number,
): { readonly traps: Traps; readonly plugged: number } {
  const boreOfRow = new Map<number, number>();
  rounds.forEach(({ shape, slit, diameterM, faceIds }, index) => {
    if (shape !== 'hole' || slit || diameterM > WIDEST_PLUG_M) return;
    for (const id of faceIds) boreOfRow.set(faceRow(id)!, index);
  });
  const { faceOfTriangle } = geometry.faces;
  const isPlugged = (pocket: Pocket): boolean => {
    const bores = new Set<number>();
    for (const triangle of pocket.triangles) {
      const bore = boreOfRow.get(faceOfTriangle[triangle]!);
      if (bore === undefined) continue;
      if ((flags[triangle]! & COVERAGE_BITS.mask) === 0) return false;
      bores.add(bore);
    }
    const boredM3 = [...bores].reduce((sum, index) => {
      const { diameterM, lengthM } = rounds[index]!;
      return sum + (Math.PI / 4) * diameterM ** 2 * lengthM;
    }, 0);
    return pocket.volume * metresPerUnit ** 3 <= MORE_THAN_BORE * boredM3;
  };
  const gas = traps.gas.filter((pocket) => !isPlugged(pocket));
  const liquid = traps.liquid.filter((pocket) => !isPlugged(pocket));
  const plugged = traps.gas.length + traps.liquid.length - gas.length - liquid.length;
  return { traps: plugged === 0 ? traps : { ...traps, gas, liquid }, plugged };
}
