import { COVERAGE_BITS } from '../faces/coverage-flags.ts';
import { faceRow } from '../faces/face-table.ts';
import { WIDEST_PLUG_M } from '../finish/mask-list.ts';
import type { RoundFeature } from '../finish/round-features.ts';
import type { PartGeometry } from '../mesh/part-geometry.ts';
import type { Traps } from '../racking/find-traps.ts';
import { isPlugged, NO_BORE, OPEN_BORE, type Plugs } from '../racking/plugs.ts';

/**
 * The plugs of a part: a bore that is masked gets one (finish/mask-list.ts). A bore that is lacquered or taped inside, slit or
 * wider than plugs are sold, stays hollow.
 * @param flags coverage per triangle, see faces/coverage-flags.ts
 * @returns null where no bore has a plug
 */
export function plugsOf(
  geometry: Pick<PartGeometry, 'faces'>,
  rounds: readonly RoundFeature[],
  flags: Uint8Array,
  metresPerUnit: number,
): Plugs | null {
  const boreOfRow = new Map<number, number>();
  rounds.forEach(({ shape, slit, diameterM, faceIds }, index) => {
    if (shape !== 'hole' || slit || diameterM > WIDEST_PLUG_M) return;
    for (const id of faceIds) boreOfRow.set(faceRow(id)!, index);
  });
  if (boreOfRow.size === 0) return null;
  const { faceOfTriangle } = geometry.faces;
  const plugged = new Set<number>();
  const boreOfTriangle = new Int32Array(faceOfTriangle.length).fill(NO_BORE);
  for (let triangle = 0; triangle < faceOfTriangle.length; triangle++) {
    const bore = boreOfRow.get(faceOfTriangle[triangle]!);
    if (bore === undefined) continue;
    const isMasked = (flags[triangle]! & COVERAGE_BITS.mask) !== 0;
    boreOfTriangle[triangle] = isMasked ? bore : OPEN_BORE;
    if (isMasked) plugged.add(bore);
  }
  if (plugged.size === 0) return null;
  const boredVolume = Float64Array.from(
    rounds,
    ({ diameterM, lengthM }) => ((Math.PI / 4) * diameterM ** 2 * lengthM) / metresPerUnit ** 3,
  );
  return { boreOfTriangle, boredVolume, key: [...plugged].sort((a, b) => a - b).join(' ') };
}

/** Traps without those that plugs fill, and how many those are. */
export function withoutPlugged(
  traps: Traps,
  plugs: Plugs | null,
): { readonly traps: Traps; readonly plugged: number } {
  if (!plugs) return { traps, plugged: 0 };
  const gas = traps.gas.filter((pocket) => !isPlugged(plugs, pocket));
  const liquid = traps.liquid.filter((pocket) => !isPlugged(plugs, pocket));
  const plugged = traps.gas.length + traps.liquid.length - gas.length - liquid.length;
  return { traps: plugged === 0 ? traps : { ...traps, gas, liquid }, plugged };
}
