import { COVERAGE_BITS } from './coverage-flags.ts';
import type { FaceTable } from './face-table.ts';

/** Areas in model units squared. `total` is coated + masked + contact, exactly. */
export interface TreatmentAreas {
  readonly total: number;
  readonly coated: number;
  readonly masked: number;
  readonly contact: number;
  /** Walls of sealed voids; in none of the others. */
  readonly sealed: number;
  /** Of the coated area, what is flagged to be seen. */
  readonly shown: number;
  /** One a face row each. */
  readonly byFace: {
    readonly coated: Float64Array;
    readonly masked: Float64Array;
    readonly contact: Float64Array;
  };
}

/** @param flags one byte a triangle, see coverage-flags.ts */
export function areasByTreatment(
  faces: Pick<FaceTable, 'count' | 'faceOfTriangle'>,
  triangleAreas: Float64Array,
  flags: Uint8Array,
): TreatmentAreas {
  const count = triangleAreas.length;
  if (flags.length !== count || faces.faceOfTriangle.length !== count) {
    throw new RangeError(
      `flags: one a triangle, ${count} needed, got ${flags.length} (faces have ${faces.faceOfTriangle.length})`,
    );
  }
  const coated = new Float64Array(faces.count);
  const masked = new Float64Array(faces.count);
  const contact = new Float64Array(faces.count);
  let shown = 0;
  let sealed = 0;
  for (let t = 0; t < count; t++) {
    const face = faces.faceOfTriangle[t];
    const flag = flags[t];
    if (flag & COVERAGE_BITS.sealed) sealed += triangleAreas[t];
    else if (flag & COVERAGE_BITS.mask) masked[face] += triangleAreas[t];
    else if (flag & COVERAGE_BITS.contact) contact[face] += triangleAreas[t];
    else {
      coated[face] += triangleAreas[t];
      if (flag & COVERAGE_BITS.show) shown += triangleAreas[t];
    }
  }
  const sums = [coated, masked, contact].map((areas) => areas.reduce((sum, area) => sum + area, 0));
  return {
    total: sums[0] + sums[1] + sums[2],
    coated: sums[0],
    masked: sums[1],
    contact: sums[2],
    sealed,
    shown,
    byFace: { coated, masked, contact },
  };
}
