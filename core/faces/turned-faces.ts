import type { PartGeometry } from '../mesh/part-geometry.ts';
import type { FacetAnswer } from './facet-doubts.ts';
import type { AmbiguousFace } from './facets-both-ways.ts';
import { FACE_KINDS } from './face-table.ts';
import { TurnedGains, type TurnedSums } from './turned-gains.ts';
import { turnedPieces, type TurnedPiece } from './turned-pieces.ts';

const PLANE = FACE_KINDS.indexOf('plane');

/** Faces that are drawn in rings, see turned-pieces.ts, and what they and the faces beside them gain. */
export interface TurnedFaces extends TurnedSums {
  /** Faces of which every triangle belongs to such rings. */
  readonly whole: ReadonlySet<number>;
  /** Half-edges of which the arcs are among the gains, both of each pair. */
  readonly rims: readonly number[];
  readonly ambiguous: readonly AmbiguousFace[];
}

/** Undefined where there are none. */
export function turnedFaces(
  geometry: PartGeometry,
  answers: ReadonlyMap<number, FacetAnswer> | undefined,
): TurnedFaces | undefined {
  const { faces } = geometry;
  const pieces = turnedPieces(geometry);
  if (pieces.length === 0) return undefined;
  const { told, counts } = toldBands(geometry, pieces);
  const perFace = (): Float64Array => new Float64Array(faces.count);
  const sums = { gain: perFace(), unsure: perFace(), less: perFace(), more: perFace() };
  const rims: number[] = [];
  const ambiguous: AmbiguousFace[] = [];
  pieces.forEach((piece, i) => {
    if (!told[i].some((is) => is)) return;
    const worked = new TurnedGains(geometry, piece, told[i], answers);
    ambiguous.push(...worked.addInto(sums));
    rims.push(...worked.rims());
  });
  const whole = new Set<number>();
  counts.forEach((count, f) => {
    if (count === faces.triangleCount[f]) whole.add(f);
  });
  return { ...sums, whole, rims, ambiguous };
}

/**
 * Which bands of each piece are taken, and how many triangles of every face that are: those of which all faces lie in such bands
 * altogether, or are planes. The rest of another face would be worked out beside nothing: a hole goes through.
 */
function toldBands(
  { faces }: PartGeometry,
  pieces: readonly TurnedPiece[],
): { readonly told: readonly boolean[][]; readonly counts: Uint32Array } {
  const counts = new Uint32Array(faces.count);
  const count = (band: readonly number[], by: number): void => {
    for (const t of band) counts[faces.faceOfTriangle[t]] += by;
  };
  for (const { bands } of pieces) for (const band of bands) count(band, 1);
  const isTold = (t: number): boolean => {
    const f = faces.faceOfTriangle[t];
    return faces.kind[f] === PLANE || counts[f] === faces.triangleCount[f];
  };
  const told = pieces.map(({ bands }) => bands.map(() => true));
  for (let isSettled = false; !isSettled;) {
    isSettled = true;
    pieces.forEach(({ bands }, i) =>
      bands.forEach((band, k) => {
        if (!told[i][k] || band.every(isTold)) return;
        told[i][k] = isSettled = false;
        count(band, -1);
      }),
    );
  }
  return { told, counts };
}
