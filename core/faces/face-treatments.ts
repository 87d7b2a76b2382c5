import { COVERAGE_BITS, treatmentOf, type Treatment } from './coverage-flags.ts';
import type { FaceTable } from './face-table.ts';

export interface FaceTreatment {
  /** `mixed` when its triangles differ, as after a change of the split angle. */
  readonly treatment: Treatment | 'mixed';
  /** Every triangle is flagged to be seen. */
  readonly show: boolean;
}

/**
 * What happens to each face, one entry a row.
 *
 * @param flags one byte a triangle, see coverage-flags.ts
 */
export function faceTreatments(
  faces: Pick<FaceTable, 'count' | 'faceOfTriangle'>,
  flags: Uint8Array,
): FaceTreatment[] {
  if (flags.length !== faces.faceOfTriangle.length) {
    throw new RangeError(`flags: one a triangle, ${faces.faceOfTriangle.length} needed, got ${flags.length}`);
  }
  // Most often nothing is said yet, and a million triangles need not be gone through by face.
  if (!flags.some((flag) => flag !== 0)) {
    return Array.from({ length: faces.count }, () => ({ treatment: 'coat', show: false }) as const);
  }
  const treatments = new Array<Treatment | 'mixed' | undefined>(faces.count);
  const show = new Uint8Array(faces.count).fill(1);
  for (let t = 0; t < flags.length; t++) {
    const face = faces.faceOfTriangle[t];
    const own = treatmentOf(flags[t]);
    const before = treatments[face];
    treatments[face] = before === undefined || before === own ? own : 'mixed';
    if (!(flags[t] & COVERAGE_BITS.show)) show[face] = 0;
  }
  return treatments.map((treatment, face) => ({ treatment: treatment ?? 'coat', show: show[face] === 1 }));
}
