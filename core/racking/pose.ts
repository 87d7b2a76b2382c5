import { add, anyPerpendicular, cross, dot, scale, unit, type Vec3 } from './vec3.ts';

/**
 * Where a part hangs: tank point = rotation · (model point · metresPerUnit) + offsetM. `rotation` is nine numbers,
 * row by row, a proper rotation.
 */
export interface Pose {
  readonly rotation: readonly number[];
  readonly offsetM: Vec3;
}

export const IDENTITY_ROTATION: readonly number[] = [1, 0, 0, 0, 1, 0, 0, 0, 1];

/**
 * The rotation that takes the model's direction `up` to the tank's z. `turnRad` turns the part about that vertical;
 * at 0 the model direction used for the tank's x is the model axis most nearly level.
 */
export function rotationForUp(up: Vec3, turnRad = 0): number[] {
  const z = unit(up);
  const away = anyPerpendicular(z);
  const level = unit(cross(away, z));
  const c = Math.cos(turnRad);
  const s = Math.sin(turnRad);
  const side = cross(z, level);
  const x = add(scale(level, c), scale(side, -s));
  const y = cross(z, x);
  return [...x, ...y, ...z];
}

export function rotate(rotation: readonly number[], p: Vec3): Vec3 {
  return [
    dot([rotation[0]!, rotation[1]!, rotation[2]!], p),
    dot([rotation[3]!, rotation[4]!, rotation[5]!], p),
    dot([rotation[6]!, rotation[7]!, rotation[8]!], p),
  ];
}

/** The model direction that a tank direction comes from (rotation transposed). */
export function rotateBack(rotation: readonly number[], p: Vec3): Vec3 {
  return [
    dot([rotation[0]!, rotation[3]!, rotation[6]!], p),
    dot([rotation[1]!, rotation[4]!, rotation[7]!], p),
    dot([rotation[2]!, rotation[5]!, rotation[8]!], p),
  ];
}

/** Vertices in the tank, metres, float64, three a vertex. */
export function poseVertices(vertices: ArrayLike<number>, metresPerUnit: number, pose: Pose): Float64Array {
  const r = pose.rotation;
  const [ox, oy, oz] = pose.offsetM;
  const posed = new Float64Array(vertices.length);
  for (let i = 0; i + 2 < vertices.length; i += 3) {
    const x = vertices[i]! * metresPerUnit;
    const y = vertices[i + 1]! * metresPerUnit;
    const z = vertices[i + 2]! * metresPerUnit;
    posed[i] = r[0]! * x + r[1]! * y + r[2]! * z + ox;
    posed[i + 1] = r[3]! * x + r[4]! * y + r[5]! * z + oy;
    posed[i + 2] = r[6]! * x + r[7]! * y + r[8]! * z + oz;
  }
  return posed;
}
