import type { FaceKind } from './face-table.ts';

/** One face as the CAD program drew it, not as its triangles show it. */
export interface CadFace {
  /** As the file's own surface says; `free` for splines and swept surfaces. */
  readonly kind: FaceKind;
  /** Radius of cylinder or sphere, tube radius of a torus in model units, half-angle of a cone in rad, 0 otherwise. */
  readonly size: number;
  /** Radius of a torus's centre line, model units; 0 otherwise. */
  readonly ringRadius: number;
  /** Of the surface itself, not of its facets. */
  readonly areaModelUnits2: number;
  /** Normal of a plane, axis of a cylinder, cone or torus (unit length, either way round), 0 0 0 otherwise. */
  readonly axis: readonly [number, number, number];
  /** Model units: a point on the plane or axis, the centre of a sphere or torus; 0 0 0 for a free face. */
  readonly point: readonly [number, number, number];
}

/** The faces of a CAD file with the triangles that draw them. */
export interface CadFaces {
  /** Per triangle: its face. Never descending: triangles come face after face, and every face has at least one. */
  readonly faceOfTriangle: Uint32Array;
  readonly faces: readonly CadFace[];
  /** The facets lie within this of the surface, model units. It touches the drawing and the volume, not the areas. */
  readonly chordTolerance: number;
}

/** Throws RangeError unless `cad` fits a mesh of `triangleCount` triangles as its docstrings say. */
export function checkCadFaces(cad: CadFaces, triangleCount: number): void {
  const { faceOfTriangle, faces } = cad;
  if (faceOfTriangle.length !== triangleCount) {
    throw new RangeError(`cad: ${faceOfTriangle.length} entries for ${triangleCount} triangles`);
  }
  let next = 0;
  for (let t = 0; t < triangleCount; t++) {
    const face = faceOfTriangle[t];
    if (face === next) next++;
    else if (face !== next - 1)
      throw new RangeError(`cad: triangle ${t} is of face ${face}, after ${next - 1}`);
  }
  if (next !== faces.length)
    throw new RangeError(`cad: ${faces.length} faces, ${next} of them with triangles`);
  faces.forEach(({ areaModelUnits2 }, row) => {
    if (!(areaModelUnits2 >= 0 && areaModelUnits2 < Infinity)) {
      throw new RangeError(`cad: face ${row} has the area ${areaModelUnits2}`);
    }
  });
}
