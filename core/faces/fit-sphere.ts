import {
  facesInward,
  triangleMiddle,
  type FaceSample,
  type FaceShape,
  type Tolerance,
} from './face-sample.ts';
import { dot3, length3, sum, unit } from './fit-vectors.ts';
import { roomForRows, solveRows } from './least-squares.ts';

/** A sphere, or undefined when corners or facets are not on one. */
export function fitSphere(sample: FaceSample, tolerance: Tolerance): FaceShape | undefined {
  const { corners } = sample;
  const count = corners.length / 3;
  const rows = roomForRows(5, count);
  for (let i = 0, at = 0; i < corners.length; i += 3, at += 5) {
    const x = corners[i];
    const y = corners[i + 1];
    const z = corners[i + 2];
    rows[at] = 2 * x;
    rows[at + 1] = 2 * y;
    rows[at + 2] = 2 * z;
    rows[at + 3] = 1;
    rows[at + 4] = x * x + y * y + z * z;
  }
  const centre = solveRows(4, count);
  const cx = centre[0];
  const cy = centre[1];
  const cz = centre[2];
  let radius = 0;
  const distances = roomForRows(1, count);
  for (let i = 0, at = 0; i < count; i++, at += 3) {
    const distance = length3(corners[at] - cx, corners[at + 1] - cy, corners[at + 2] - cz);
    distances[i] = distance;
    radius += distance;
  }
  radius /= count;
  const limit = tolerance(radius);
  for (let i = 0; i < count; i++) if (Math.abs(distances[i] - radius) > limit) return undefined;
  // Facets face the centre as well: the two rims of a short tube lie on a sphere, its wall does not.
  let off = 0;
  for (let i = 0; i < sample.count; i++) {
    const m = triangleMiddle(corners, i);
    const out = unit([m[0] - cx, m[1] - cy, m[2] - cz]);
    off += sample.areas[i] * (1 - Math.abs(dot3(sample.normals, i, out)));
  }
  if (off / sum(sample.areas) > 0.02) return undefined;
  const inward = facesInward(sample, [cx, cy, cz]);
  return { kind: 'sphere', size: radius, axis: [0, 0, 0], point: [cx, cy, cz], inward };
}
