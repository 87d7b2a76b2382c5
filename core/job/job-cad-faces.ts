import { z } from 'zod';
import { FACE_KINDS } from '../faces/face-table.ts';
import type { CadFaces } from '../faces/cad-faces.ts';

const MOST_FACES = 1_000_000;
const numbers = z.array(z.number()).max(3 * MOST_FACES);

/**
 * What the faces of a CAD file were like when it was read: by this they are found again when another version of the program
 * draws them with other triangles. One entry a face, in the file's order; lengths in model units.
 */
export const cadFacePrintsSchema = z
  .object({
    /** Triangles that drew it. */
    triangles: z.array(z.number().int().positive()).max(MOST_FACES),
    /** One digit a face, an index into FACE_KINDS. */
    kinds: z.string().regex(new RegExp(`^[0-${FACE_KINDS.length - 1}]*$`)),
    areas: numbers,
    /** 3 a face: the middle of its triangles, each by its area. */
    centres: numbers,
    /** The triangles lay within this of the surface. */
    tolerance: z.number().nonnegative(),
  })
  .refine(({ triangles: { length }, kinds, areas, centres }) => {
    return kinds.length === length && areas.length === length && centres.length === 3 * length;
  }, 'faces of the file told incompletely');
export type CadFacePrints = z.infer<typeof cadFacePrintsSchema>;

/** @param positions 9 floats a triangle, as `cad` numbers them */
export function cadFacePrints(positions: Float32Array, cad: CadFaces): CadFacePrints {
  const { faceOfTriangle, faces, chordTolerance } = cad;
  const count = faces.length;
  const triangles = new Array<number>(count).fill(0);
  const weight = new Float64Array(count);
  const sums = new Float64Array(3 * count);
  for (let t = 0; t < faceOfTriangle.length; t++) {
    const face = faceOfTriangle[t];
    triangles[face]++;
    const p = 9 * t;
    const [ax, ay, az] = [0, 1, 2].map((k) => positions[p + 3 + k] - positions[p + k]);
    const [bx, by, bz] = [0, 1, 2].map((k) => positions[p + 6 + k] - positions[p + k]);
    // A face of lines alone has a middle as well.
    const area = Math.hypot(ay * bz - az * by, az * bx - ax * bz, ax * by - ay * bx) / 2 + Number.MIN_VALUE;
    weight[face] += area;
    for (let k = 0; k < 3; k++) {
      sums[3 * face + k] += (area * (positions[p + k] + positions[p + 3 + k] + positions[p + 6 + k])) / 3;
    }
  }
  return {
    triangles,
    kinds: faces.map(({ kind }) => FACE_KINDS.indexOf(kind)).join(''),
    areas: faces.map(({ areaModelUnits2 }) => rounded(areaModelUnits2)),
    centres: Array.from(sums, (sum, i) => rounded(sum / weight[Math.floor(i / 3)])),
    tolerance: chordTolerance,
  };
}

/** Seven digits: the areas come from the CAD kernel, the middles from 32 bit corners. */
function rounded(value: number): number {
  return Number.isFinite(value) ? Number(value.toPrecision(7)) : 0;
}
