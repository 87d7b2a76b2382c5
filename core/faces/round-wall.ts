import type { PartGeometry } from '../mesh/part-geometry.ts';
import { dot, subtract, type Vec3 } from '../racking/vec3.ts';

/** A round wall: its axis, and how far it reaches along it. Model units. */
export interface RoundWall {
  /** Unit length. */
  readonly axis: Vec3;
  readonly onAxis: Vec3;
  readonly radius: number;
  /** Along the axis from `onAxis`. */
  readonly low: number;
  readonly high: number;
}

/**
 * @param row of the face table, whose axis and radius count for all
 * @param triangles all those of the wall
 */
export function roundWall(
  { positions, faces }: Pick<PartGeometry, 'positions' | 'faces'>,
  row: number,
  triangles: readonly number[],
): RoundWall {
  const axis = vec(faces.axis, 3 * row);
  const onAxis = vec(faces.point, 3 * row);
  let low = Infinity;
  let high = -Infinity;
  for (const t of triangles) {
    for (let i = 9 * t; i < 9 * t + 9; i += 3) {
      const along = dot(subtract(vec(positions, i), onAxis), axis);
      if (along < low) low = along;
      if (along > high) high = along;
    }
  }
  return { axis, onAxis, radius: faces.size[row], low, high };
}

const vec = (values: ArrayLike<number>, at: number): Vec3 => [values[at], values[at + 1], values[at + 2]];
