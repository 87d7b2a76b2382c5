import { treatmentOf } from '../faces/coverage-flags.ts';
import type { PartGeometry } from '../mesh/part-geometry.ts';
import { rowsText } from './facet-questions.ts';

/** Surface that is counted as coated although plugs keep the bath from it. */
export interface ClosedOff {
  readonly areaM2: number;
  /** "f2 and f7". */
  readonly faces: string;
}

/**
 * @param closedOff triangles behind plugs, see racking/plug-mesh.ts
 * @param flags coverage per triangle
 * @returns null where all of it is masked or bare already
 */
export function closedOffBy(
  geometry: Pick<PartGeometry, 'faces' | 'triangleAreas'>,
  closedOff: Uint32Array,
  flags: Uint8Array,
  metresPerUnit: number,
): ClosedOff | null {
  const rows = new Set<number>();
  let area = 0;
  for (const triangle of closedOff) {
    if (treatmentOf(flags[triangle]!) !== 'coat') continue;
    rows.add(geometry.faces.faceOfTriangle[triangle]!);
    area += geometry.triangleAreas[triangle]!;
  }
  if (rows.size === 0) return null;
  return { areaM2: area * metresPerUnit ** 2, faces: rowsText([...rows].sort((a, b) => a - b)) };
}
