import type { CadFace, CadFaces } from '../faces/cad-faces.ts';
import type { SourcedMesh } from './source-triangles.ts';
import { surfaceArea } from './surface-area.ts';

export interface DerivedCad extends SourcedMesh {
  /** Undefined where there is no CAD face left. */
  readonly cad: CadFaces | undefined;
}

/**
 * The CAD faces of a mesh that was repaired or fused. A face of which something went (covered by another body) keeps
 * the same share of its exact area as of its facets; one that went whole is gone. What closes a gap becomes a free
 * face of its own, as large as it is. Triangles are put in order of their faces.
 *
 * @param original positions of the file's own triangles, to which `cad` belongs
 */
export function derivedCad(mesh: SourcedMesh, original: Float32Array, cad: CadFaces): DerivedCad {
  const area = (positions: Float32Array, t: number): number =>
    surfaceArea(positions.subarray(9 * t, 9 * t + 9));
  const drawn = new Float64Array(cad.faces.length);
  for (let t = 0; t < cad.faceOfTriangle.length; t++) drawn[cad.faceOfTriangle[t]] += area(original, t);
  const left = new Float64Array(cad.faces.length);
  const total = mesh.sourceTriangle.length;
  const oldFace = new Int32Array(total).fill(-1);
  for (let t = 0; t < total; t++) {
    const source = mesh.sourceTriangle[t];
    if (source >= cad.faceOfTriangle.length) continue;
    oldFace[t] = cad.faceOfTriangle[source];
    left[oldFace[t]] += area(mesh.positions, t);
  }
  const order = Uint32Array.from({ length: total }, (_, t) => t);
  const rank = (t: number): number => (oldFace[t] < 0 ? cad.faces.length : oldFace[t]);
  order.sort(
    (a, b) =>
      rank(a) - rank(b) || (oldFace[a] < 0 ? mesh.sourceTriangle[a] - mesh.sourceTriangle[b] : 0) || a - b,
  );
  const positions = new Float32Array(mesh.positions.length);
  const sourceTriangle = new Uint32Array(total);
  const faceOfTriangle = new Uint32Array(total);
  const faces: CadFace[] = [];
  let before = -1;
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
        areaModelUnits2: face.areaModelUnits2 + area(mesh.positions, t),
      };
    } else if (old < 0) {
      faces.push({
        kind: 'free',
        size: 0,
        ringRadius: 0,
        areaModelUnits2: area(mesh.positions, t),
        axis: [0, 0, 0],
        point: [0, 0, 0],
      });
    } else if (old !== before) {
      const face = cad.faces[old];
      const share = drawn[old] > 0 ? left[old] / drawn[old] : 1;
      // Within rounding it is all there.
      const kept = Math.abs(share - 1) < 1e-6 ? 1 : share;
      faces.push({ ...face, areaModelUnits2: face.areaModelUnits2 * kept });
      before = old;
    }
    gapBefore = gap;
    faceOfTriangle[to] = faces.length - 1;
  });
  const derived = faces.length > 0 ? { ...cad, faceOfTriangle, faces } : undefined;
  return { positions, sourceTriangle, cad: derived };
}
