import {
  facesInward,
  triangleMiddle,
  type FaceSample,
  type FaceShape,
  type Tolerance,
} from './face-sample.ts';
import { dot3, length3, sum, unit } from './fit-vectors.ts';
import { leastSquares } from './least-squares.ts';

/** A sphere, or undefined when corners or facets are not on one. */
export function fitSphere(sample: FaceSample, tolerance: Tolerance): FaceShape | undefined {
  const { corners } = sample;
  const row = Float64Array.of(0, 0, 0, 1);
  const [cx, cy, cz] = leastSquares(4, (add) => {
    for (let i = 0; i < corners.length; i += 3) {
      const x = corners[i];
      const y = corners[i + 1];
      const z = corners[i + 2];
      row[0] = 2 * x;
      row[1] = 2 * y;
      row[2] = 2 * z;
      add(row, x * x + y * y + z * z);
    }
  });
  let radius = 0;
  const distances = new Float64Array(corners.length / 3);
  for (let i = 0; i < corners.length; i += 3) {
    distances[i / 3] = length3(corners[i] - cx, corners[i + 1] - cy, corners[i + 2] - cz);
    radius += distances[i / 3];
  }
  radius /= distances.length;
  const limit = tolerance(radius);
  if (distances.some((distance) => Math.abs(distance - radius) > limit)) return undefined;
  // Facets face the centre as well: the two rims of a short tube lie on a sphere, its wall does not.
  let off = 0;
  for (let i = 0; i < sample.count; i++) {
    const m = triangleMiddle(corners, i);
    const out = unit([m[0] - cx, m[1] - cy, m[2] - cz]);
    off += sample.areas[i] * (1 - Math.abs(dot3(sample.normals, i, out)));
  }
  if (off / sum(sample.areas) > 0.02) return undefined;
  const inward = facesInward(sample, (x, y, z) => [x - cx, y - cy, z - cz]);
  return { kind: 'sphere', size: radius, axis: [0, 0, 0], point: [cx, cy, cz], inward };
}
