import { COVERAGE_BITS } from './coverage-flags.ts';
import type { FaceTable } from './face-table.ts';

/** One entry a face row each. */
interface AreasOfFaces {
  readonly coated: Float64Array;
  readonly masked: Float64Array;
  readonly contact: Float64Array;
  readonly sealed: Float64Array;
  readonly shown: Float64Array;
}

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
  readonly byFace: AreasOfFaces;
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
  const perFace = (): Float64Array => new Float64Array(faces.count);
  const byFace = {
    coated: perFace(),
    masked: perFace(),
    contact: perFace(),
    sealed: perFace(),
    shown: perFace(),
  };
  const { coated, masked, contact, sealed, shown } = byFace;
  for (let t = 0; t < count; t++) {
    const face = faces.faceOfTriangle[t];
    const flag = flags[t];
    if (flag === 0) coated[face] += triangleAreas[t];
    else if (flag & COVERAGE_BITS.sealed) sealed[face] += triangleAreas[t];
    else if (flag & COVERAGE_BITS.mask) masked[face] += triangleAreas[t];
    else if (flag & COVERAGE_BITS.contact) contact[face] += triangleAreas[t];
    else {
      coated[face] += triangleAreas[t];
      if (flag & COVERAGE_BITS.show) shown[face] += triangleAreas[t];
    }
  }
  return summed(byFace);
}

/**
 * The same with the area of each face times a factor: what the facets of a round face cut off, or what a thread adds to a
 * bore, spreads evenly over the face, so that a mask over half of it takes half.
 *
 * @param factor one a face
 */
export function areasTimes({ byFace }: Pick<TreatmentAreas, 'byFace'>, factor: Float64Array): TreatmentAreas {
  if (factor.length !== byFace.coated.length) {
    throw new RangeError(`factor: one a face, ${byFace.coated.length} needed, got ${factor.length}`);
  }
  const times = (areas: Float64Array): Float64Array => areas.map((area, f) => area * factor[f]);
  return summed({
    coated: times(byFace.coated),
    masked: times(byFace.masked),
    contact: times(byFace.contact),
    sealed: times(byFace.sealed),
    shown: times(byFace.shown),
  });
}

function summed(byFace: AreasOfFaces): TreatmentAreas {
  const sum = (areas: Float64Array): number => areas.reduce((total, area) => total + area, 0);
  const [coated, masked, contact] = [byFace.coated, byFace.masked, byFace.contact].map(sum);
  return {
    total: coated + masked + contact,
    coated,
    masked,
    contact,
    sealed: sum(byFace.sealed),
    shown: sum(byFace.shown),
    byFace,
  };
}
