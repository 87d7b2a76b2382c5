import type { CadFace, CadFaces } from '../faces/cad-faces.ts';
import { facePieces } from './face-pieces.ts';
import type { SourcedMesh } from './source-triangles.ts';
import { surfaceArea } from './surface-area.ts';

export interface DerivedCad extends SourcedMesh {
  /** Undefined where there is no CAD face left. */
  readonly cad: CadFaces | undefined;
}

/**
 * The CAD faces of a mesh that was repaired or fused. A face of which something went (covered by another body) keeps
 * the same share of its exact area as of its facets; one that went whole is gone; one that was cut in pieces is as many faces.
 * What closes a gap becomes a free face of its own, as large as it is. Triangles are put in order of their faces.
 *
 * @param original positions of the file's own triangles, to which `cad` belongs
 */
export function derivedCad(mesh: SourcedMesh, original: Float32Array, cad: CadFaces): DerivedCad {
  const area = (positions: Float32Array, t: number): number =>
    surfaceArea(positions.subarray(9 * t, 9 * t + 9));
  const drawn = new Float64Array(cad.faces.length);
  for (let t = 0; t < cad.faceOfTriangle.length; t++) drawn[cad.faceOfTriangle[t]] += area(original, t);
  const total = mesh.sourceTriangle.length;
  const oldFace = new Int32Array(total).fill(-1);
  const areas = new Float64Array(total);
  for (let t = 0; t < total; t++) {
    areas[t] = area(mesh.positions, t);
    const source = mesh.sourceTriangle[t];
    if (source < cad.faceOfTriangle.length) oldFace[t] = cad.faceOfTriangle[source];
  }
  const pieceOf = facePieces(mesh.positions, oldFace, areas);
  const left = new Float64Array(total);
  pieceOf.forEach((piece, t) => (left[piece] += areas[t]));
  const order = Uint32Array.from({ length: total }, (_, t) => t);
  const rank = (t: number): number => (oldFace[t] < 0 ? cad.faces.length : oldFace[t]);
  order.sort(
    (a, b) =>
      rank(a) - rank(b) ||
      (oldFace[a] < 0 ? mesh.sourceTriangle[a] - mesh.sourceTriangle[b] : pieceOf[a] - pieceOf[b]) ||
      a - b,
  );
  const positions = new Float32Array(mesh.positions.length);
  const sourceTriangle = new Uint32Array(total);
  const faceOfTriangle = new Uint32Array(total);
  const faces: CadFace[] = [];
  let before = -1;
  let pieceBefore = -1;
  let gapBefore = -1;
  order.forEach((t, to) => {
    positions.set(mesh.positions.subarray(9 * t, 9 * t + 9), 9 * to);
    sourceTriangle[to] = mesh.sourceTriangle[t];
    const old = oldFace[t];
    const gap = old < 0 ? mesh.sourceTriangle[t] : -1;
    if (old < 0 && gap === gapBefore) {
      const face = faces.at(-1)!;
      faces[faces.length - 1] = {
        ...face,
        areaModelUnits2: face.areaModelUnits2 + areas[t],
      };
    } else if (old < 0) {
      faces.push({
        kind: 'free',
        size: 0,
        ringRadius: 0,
        areaModelUnits2: areas[t],
        axis: [0, 0, 0],
        point: [0, 0, 0],
      });
    } else if (old !== before || pieceOf[t] !== pieceBefore) {
      const face = cad.faces[old];
      const share = drawn[old] > 0 ? left[pieceOf[t]] / drawn[old] : 1;
      // Within rounding it is all there.
      const kept = Math.abs(share - 1) < 1e-6 ? 1 : share;
      faces.push({ ...face, areaModelUnits2: face.areaModelUnits2 * kept });
      before = old;
      pieceBefore = pieceOf[t];
    }
    gapBefore = gap;
    faceOfTriangle[to] = faces.length - 1;
  });
  const derived = faces.length > 0 ? { ...cad, faceOfTriangle, faces } : undefined;
  return { positions, sourceTriangle, cad: derived };
}
