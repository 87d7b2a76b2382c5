import type { PartGeometry } from '../mesh/part-geometry.ts';
import type { FacetAnswer } from './facet-doubts.ts';
import type { AmbiguousFace } from './facets-both-ways.ts';
import { FACE_KINDS } from './face-table.ts';
import { StaggeredGains, type StaggeredSums } from './staggered-gains.ts';
import { staggeredPieces, type StaggeredPiece } from './staggered-pieces.ts';

const PLANE = FACE_KINDS.indexOf('plane');

/** Faces that are drawn in staggered rings, and what they and the faces beside them gain. */
export interface StaggeredFaces extends StaggeredSums {
  /** Faces of which every triangle belongs to such rings. */
  readonly whole: ReadonlySet<number>;
  /** Half-edges of which the arcs are among the gains, both of each pair. */
  readonly rims: readonly number[];
  readonly ambiguous: readonly AmbiguousFace[];
}

/** Undefined where there are none. */
export function staggeredFaces(
  geometry: PartGeometry,
  answers: ReadonlyMap<number, FacetAnswer> | undefined,
): StaggeredFaces | undefined {
  const { faces } = geometry;
  const { pieces, counts } = wholePieces(geometry, staggeredPieces(geometry));
  if (pieces.length === 0) return undefined;
  const perFace = (): Float64Array => new Float64Array(faces.count);
  const sums = { gain: perFace(), unsure: perFace(), less: perFace(), more: perFace() };
  const rims: number[] = [];
  const ambiguous: AmbiguousFace[] = [];
  for (const piece of pieces) {
    const worked = new StaggeredGains(geometry, piece, answers);
    ambiguous.push(...worked.addInto(sums));
    rims.push(...worked.rims());
  }
  const whole = new Set<number>();
  for (let f = 0; f < faces.count; f++) if (counts[f] === faces.triangleCount[f]) whole.add(f);
  return { ...sums, whole, rims, ambiguous };
}

/** Pieces of which every face is a plane or lies in such pieces altogether: of others the rest would be worked out beside nothing. */
function wholePieces(
  { faces }: PartGeometry,
  pieces: readonly StaggeredPiece[],
): { readonly pieces: readonly StaggeredPiece[]; readonly counts: Uint32Array } {
  const counts = new Uint32Array(pieces.length > 0 ? faces.count : 0);
  const count = ({ bands }: StaggeredPiece, by: number): void => {
    for (const band of bands) for (const t of band) counts[faces.faceOfTriangle[t]] += by;
  };
  for (const piece of pieces) count(piece, 1);
  const isWhole = (t: number): boolean => {
    const f = faces.faceOfTriangle[t];
    return faces.kind[f] === PLANE || counts[f] === faces.triangleCount[f];
  };
  for (let kept = pieces; ;) {
    const [next, gone] = [[] as StaggeredPiece[], [] as StaggeredPiece[]];
    for (const piece of kept) (piece.bands.every((band) => band.every(isWhole)) ? next : gone).push(piece);
    if (gone.length === 0) return { pieces: kept, counts };
    for (const piece of gone) count(piece, -1);
    kept = next;
  }
}
