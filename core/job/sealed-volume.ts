import { metresPerUnit } from '../mesh/part-extents.ts';
import type { PluggedTraps } from '../racking/plugged-traps.ts';
import type { Part } from './job.ts';
import type { PartMeasure } from './measure-part.ts';

/**
 * Volume of a part's hollows that no liquid fills, m³: voids without a vent, and hollows that plugs shut. 0 where the part stands out
 * of the bath: how much of it a hollow lifts there depends on where it lies.
 */
export function sealedVolumeOf(
  part: Pick<Part, 'unit' | 'surface'>,
  { voids }: Pick<PartMeasure, 'voids'>,
  traps: Pick<PluggedTraps, 'shutVolume'> | null | undefined,
): number {
  if (part.surface.immersedDepth !== null) return 0;
  const sealed = voids.reduce((sum, { vented, volumeM3 }) => sum + (vented ? 0 : volumeM3), 0);
  return sealed + (traps?.shutVolume ?? 0) * metresPerUnit(part.unit) ** 3;
}
