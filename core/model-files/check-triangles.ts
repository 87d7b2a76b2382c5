import { failure, success, type Result } from '../result.ts';

/** Coordinates beyond this are a damaged file: 10 km in mm, and float32 steps by a whole unit there. */
const FARTHEST = 1e7;
/** A part smaller than this in every direction has no size, in any unit a model comes in. */
const SMALLEST = 1e-9;

/**
 * What every model must satisfy after loading, whatever its format. `positions`: 9 floats a triangle. Failures:
 * `no-triangles`, `corners-not-in-threes`, `not-finite`, `too-large`, `no-size`.
 */
export function checkTriangles(positions: Float32Array): Result<Float32Array> {
  if (positions.length === 0) {
    return failure(
      'no-triangles',
      'The file holds no triangles.',
      'Export the part again as a mesh of its surface, not as a sketch, points or an empty assembly.',
    );
  }
  if (positions.length % 9 !== 0) {
    return failure(
      'corners-not-in-threes',
      `The file gives ${positions.length / 3} corners, which is not three for each triangle.`,
      'Export the model again.',
    );
  }
  const min: [number, number, number] = [Infinity, Infinity, Infinity];
  const max: [number, number, number] = [-Infinity, -Infinity, -Infinity];
  for (let i = 0; i < positions.length; i += 3) {
    for (let axis = 0; axis < 3; axis++) {
      const value = positions[i + axis]!;
      if (!Number.isFinite(value)) {
        return failure(
          'not-finite',
          `Triangle ${Math.floor(i / 9) + 1} has a corner that is not at a finite place.`,
          'The file is damaged or was written wrongly: export the model again.',
        );
      }
      if (value < min[axis]!) min[axis] = value;
      if (value > max[axis]!) max[axis] = value;
    }
  }
  const farthest = Math.max(...max.map(Math.abs), ...min.map(Math.abs));
  const size = Math.max(max[0] - min[0], max[1] - min[1], max[2] - min[2]);
  if (farthest > FARTHEST) {
    return failure(
      'too-large',
      `The model reaches ${farthest.toExponential(1)} units from its origin, which no part does.`,
      'The file is damaged, or the part was drawn very far from the origin: move it there and export again.',
    );
  }
  if (size < SMALLEST) {
    return failure(
      'no-size',
      'All corners of the model are at one place.',
      'Export the model again, with more digits if the exporter asks.',
    );
  }
  return success(positions);
}
