import {
  facesInward,
  thinned,
  triangleMiddle,
  type FaceSample,
  type FaceShape,
  type Tolerance,
} from './face-sample.ts';
import { along, awayFromAxis, distanceFromAxis, frame, length3, unit, type Vec3 } from './fit-vectors.ts';
import { gaussNewton, leastSquares } from './least-squares.ts';
import { symmetricEigen } from './symmetric-eigen.ts';

/** Corners that a refinement looks at. */
const REFINED_ON = 96;

/**
 * A torus, or undefined when the corners are not on one. First guess from the normals, refined on the corners: a
 * triangle's middle is not on the line through the middle of its facet, so the normals alone leave the axis askew.
 */
export function fitTorus(sample: FaceSample, tolerance: Tolerance): FaceShape | undefined {
  const { corners } = sample;
  // Every normal of a surface of revolution meets its axis: a · (p × n) + n · (c × a) = 0, linear in a and c × a.
  const matrix = new Float64Array(36);
  const rows = new Float64Array(6 * sample.count);
  for (let i = 0, at = 0; i < sample.count; i++, at += 6) {
    const p = triangleMiddle(corners, i);
    const nx = sample.normals[3 * i];
    const ny = sample.normals[3 * i + 1];
    const nz = sample.normals[3 * i + 2];
    rows[at] = p[1] * nz - p[2] * ny;
    rows[at + 1] = p[2] * nx - p[0] * nz;
    rows[at + 2] = p[0] * ny - p[1] * nx;
    rows[at + 3] = nx;
    rows[at + 4] = ny;
    rows[at + 5] = nz;
  }
  for (let r = 0; r < 6; r++) {
    for (let c = 0; c < 6; c += 2) {
      let one = 0;
      let two = 0;
      for (let i = 0, at = 0; i < sample.count; i++, at += 6) {
        const weighted = sample.areas[i] * rows[at + r];
        one += weighted * rows[at + c];
        two += weighted * rows[at + c + 1];
      }
      matrix[6 * r + c] = one;
      matrix[6 * r + c + 1] = two;
    }
  }
  const [vector] = symmetricEigen(matrix, 6).vectors;
  const axisLength = Math.hypot(vector[0], vector[1], vector[2]);
  if (axisLength < 1e-6) return undefined;
  const axis = unit(vector.subarray(0, 3));
  const m = [vector[3] / axisLength, vector[4] / axisLength, vector[5] / axisLength];
  // m = c × a, and c is free along a: the nearest to the origin is a × m.
  const point: Vec3 = [
    axis[1] * m[2] - axis[2] * m[1],
    axis[2] * m[0] - axis[0] * m[2],
    axis[0] * m[1] - axis[1] * m[0],
  ];
  // In the half-plane through the axis, the section is a circle.
  const onCircle = Float64Array.of(0, 0, 1);
  const circle = leastSquares(3, (add) => {
    for (let i = 0; i < corners.length; i += 3) {
      const rho = distanceFromAxis(corners, i, point, axis);
      const z = along(corners, i, point, axis);
      onCircle[0] = 2 * rho;
      onCircle[1] = 2 * z;
      add(onCircle, rho * rho + z * z);
    }
  });
  const ring = circle[0];
  const tube = Math.sqrt(Math.max(0, circle[2] + ring * ring + circle[1] * circle[1]));
  if (!(ring > 0) || !(tube > 0) || tube > 100) return undefined;
  const centre = [0, 1, 2].map((k) => point[k] + circle[1] * axis[k]);
  const [u, v, w] = frame(axis);
  const at = (x: Float64Array): { axis: Vec3; point: Vec3 } => ({
    axis: unit([0, 1, 2].map((k) => w[k] + x[0] * u[k] + x[1] * v[k])),
    point: [0, 1, 2].map((k) => centre[k] + x[2] * u[k] + x[3] * v[k] + x[4] * w[k]) as unknown as Vec3,
  });
  const residualsOf =
    (points: Float64Array) =>
    (x: Float64Array, out: Float64Array): void => {
      const { point: q, axis: a } = at(x);
      for (let i = 0; i < points.length; i += 3) {
        const px = points[i] - q[0];
        const py = points[i + 1] - q[1];
        const pz = points[i + 2] - q[2];
        const z = px * a[0] + py * a[1] + pz * a[2];
        const rho = length3(px - z * a[0], py - z * a[1], pz - z * a[2]) - x[5];
        out[i / 3] = Math.sqrt(rho * rho + z * z) - x[6];
      }
    };
  const out = new Float64Array(corners.length / 3);
  const worst = (unknowns: Float64Array): number => {
    residualsOf(corners)(unknowns, out);
    let most = 0;
    for (let i = 0; i < out.length; i++) most = Math.max(most, Math.abs(out[i]));
    return most;
  };
  const first = Float64Array.of(0, 0, 0, 0, 0, ring, tube);
  if (worst(first) > 0.3 * tube) return undefined;
  const step = 1e-5 * Math.min(1, tube);
  const points = thinned(corners, REFINED_ON);
  const steps = [1e-5, 1e-5, step, step, step, step, step];
  const x = gaussNewton(first, steps, points.length / 3, tolerance(tube) / 100, residualsOf(points));
  if (worst(x) > tolerance(Math.abs(x[6]))) return undefined;
  const found = at(x);
  const inward = facesInward(sample, (px, py, pz) => {
    const away = awayFromAxis(px, py, pz, found.point, found.axis);
    const rim = unit(away);
    return [
      px - found.point[0] - x[5] * rim[0],
      py - found.point[1] - x[5] * rim[1],
      pz - found.point[2] - x[5] * rim[2],
    ];
  });
  return { kind: 'torus', size: Math.abs(x[6]), axis: found.axis, point: found.point, inward };
}
