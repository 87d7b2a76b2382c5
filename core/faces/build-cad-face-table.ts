import { describeFaces } from './build-face-table.ts';
import type { CadFace, CadFaces } from './cad-faces.ts';
import { FACE_KINDS, type FaceTable } from './face-table.ts';
import type { SurfaceGraph } from './surface-graph.ts';

/**
 * The table of a part whose faces come from a CAD file: its split, kinds, sizes and areas stand as they are. Only
 * where the CAD has a free surface (many exporters write every round as a spline) the facets are looked at, and a
 * cylinder found in them is called one.
 *
 * @param graph `graph.triangleAreas` already made exact, see exact-areas.ts
 */
export function buildCadFaceTable(graph: SurfaceGraph, cad: CadFaces): FaceTable {
  const { faceOfTriangle, faces } = cad;
  const { twin } = graph;
  const apart: number[] = [];
  for (let h = 0; h < twin.length; h++) {
    const other = twin[h];
    if (other > h && faceOfTriangle[(h / 3) | 0] !== faceOfTriangle[(other / 3) | 0]) apart.push(h);
  }
  const table = describeFaces(graph, faceOfTriangle, faces.length, Int32Array.from(apart));
  faces.forEach((face, row) => {
    table.area[row] = face.areaModelUnits2;
    if (face.kind === 'free') return;
    table.kind[row] = FACE_KINDS.indexOf(face.kind);
    table.size[row] = face.size;
    table.axis.set(face.axis, 3 * row);
    table.point.set(face.point, 3 * row);
  });
  setInward(graph, cad, table);
  return table;
}

/** Which way a curved face looks: outward where its normals lead away from its own axis, centre or pipe. */
function setInward(graph: SurfaceGraph, { faceOfTriangle, faces }: CadFaces, table: FaceTable): void {
  const { vertices, triangles } = graph.indexed;
  const outward = new Float64Array(faces.length);
  for (let t = 0; t < faceOfTriangle.length; t++) {
    const row = faceOfTriangle[t];
    const face = faces[row];
    if (face.kind === 'free' || face.kind === 'plane') continue;
    const middle = [0, 1, 2].map(
      (k) =>
        (vertices[3 * triangles[3 * t] + k] +
          vertices[3 * triangles[3 * t + 1] + k] +
          vertices[3 * triangles[3 * t + 2] + k]) /
        3,
    );
    const away = fromSkeleton(face, middle);
    for (let k = 0; k < 3; k++) outward[row] += graph.triangleAreas[t] * graph.normals[3 * t + k] * away[k];
  }
  faces.forEach(({ kind }, row) => {
    if (kind !== 'free') table.inward[row] = kind !== 'plane' && outward[row] < 0 ? 1 : 0;
  });
}

/** The vector to `place` from the nearest point of the face's axis, centre or centre line. */
function fromSkeleton({ kind, axis, point, ringRadius }: CadFace, place: readonly number[]): number[] {
  const arm = place.map((value, k) => value - point[k]);
  if (kind === 'sphere') return arm;
  const along = arm[0] * axis[0] + arm[1] * axis[1] + arm[2] * axis[2];
  const across = arm.map((value, k) => value - along * axis[k]);
  if (kind !== 'torus') return across;
  const reach = Math.hypot(across[0], across[1], across[2]);
  const share = reach > 0 ? 1 - ringRadius / reach : 0;
  return across.map((value, k) => value * share + along * axis[k]);
}
