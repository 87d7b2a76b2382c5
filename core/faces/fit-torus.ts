import {
  facesInward,
  thinned,
  triangleMiddle,
  type FaceSample,
  type FaceShape,
  type Tolerance,
} from './face-sample.ts';
import { along, distanceFromAxis, frame, length3, unit, type Vec3 } from './fit-vectors.ts';
import { gaussNewton, roomForRows, solveRows } from './least-squares.ts';
import { symmetricEigen } from './symmetric-eigen.ts';

/** Corners that a refinement looks at. */
const REFINED_ON = 96;

/** A line in space. */
interface Axis {
  readonly axis: Vec3;
  readonly point: Vec3;
}

/**
 * A torus, or undefined when the corners are not on one. First guess from the normals, refined on the corners: a
 * triangle's middle is not on the line through the middle of its facet, so the normals alone leave the axis askew.
 */
export function fitTorus(sample: FaceSample, tolerance: Tolerance): FaceShape | undefined {
  const { corners } = sample;
  const met = axisMet(sample);
  if (!met) return undefined;
  const { axis, point } = met;
  // In the half-plane through the axis, the section is a circle.
  const count = corners.length / 3;
  const rows = roomForRows(4, count);
  for (let i = 0, at = 0; i < corners.length; i += 3, at += 4) {
    const rho = distanceFromAxis(corners, i, point, axis);
    const z = along(corners, i, point, axis);
    rows[at] = 2 * rho;
    rows[at + 1] = 2 * z;
    rows[at + 2] = 1;
    rows[at + 3] = rho * rho + z * z;
  }
  const section = solveRows(3, count);
  const ring = section[0];
  const height = section[1];
  const rest = section[2];
  const tube = Math.sqrt(Math.max(0, rest + ring * ring + height * height));
  if (!(ring > 0) || !(tube > 0) || tube > 100) return undefined;
  const [cx, cy, cz] = [
    point[0] + height * axis[0],
    point[1] + height * axis[1],
    point[2] + height * axis[2],
  ];
  const [u, v, w] = frame(axis);
  const at = (x: Float64Array): Axis => ({
    axis: unit([
      w[0] + x[0] * u[0] + x[1] * v[0],
      w[1] + x[0] * u[1] + x[1] * v[1],
      w[2] + x[0] * u[2] + x[1] * v[2],
    ]),
    point: [
      cx + x[2] * u[0] + x[3] * v[0] + x[4] * w[0],
      cy + x[2] * u[1] + x[3] * v[1] + x[4] * w[1],
      cz + x[2] * u[2] + x[3] * v[2] + x[4] * w[2],
    ],
  });
  const first = Float64Array.of(0, 0, 0, 0, 0, ring, tube);
  if (worstOff(corners, at(first), ring, tube) > 0.3 * tube) return undefined;
  const step = 1e-5 * Math.min(1, tube);
  const steps = [1e-5, 1e-5, step, step, step, step, step];
  const points = thinned(corners, REFINED_ON);
  const x = gaussNewton(first, steps, points.length / 3, tolerance(tube) / 100, (unknowns, out) =>
    residualsInto(out, points, at(unknowns), unknowns[5], unknowns[6]),
  );
  const found = at(x);
  if (worstOff(corners, found, x[5], x[6]) > tolerance(Math.abs(x[6]))) return undefined;
  const inward = facesInward(sample, found.point, found.axis, x[5]);
  return { kind: 'torus', size: Math.abs(x[6]), axis: found.axis, point: found.point, inward };
}

/** The line that the normals come nearest to meeting, all of them; undefined where there is none. */
function axisMet({ count, corners, normals, areas }: FaceSample): Axis | undefined {
  // Every normal of a surface of revolution meets its axis: a · (p × n) + n · (c × a) = 0, linear in a and c × a.
  const rows = roomForRows(6, count);
  for (let i = 0, at = 0; i < count; i++, at += 6) {
    const p = triangleMiddle(corners, i);
    const nx = normals[3 * i];
    const ny = normals[3 * i + 1];
    const nz = normals[3 * i + 2];
    rows[at] = p[1] * nz - p[2] * ny;
    rows[at + 1] = p[2] * nx - p[0] * nz;
    rows[at + 2] = p[0] * ny - p[1] * nx;
    rows[at + 3] = nx;
    rows[at + 4] = ny;
    rows[at + 5] = nz;
  }
  const matrix = new Float64Array(36);
  for (let r = 0; r < 6; r++) {
    let [m0, m1, m2, m3, m4, m5] = [0, 0, 0, 0, 0, 0];
    for (let i = 0, at = 0; i < count; i++, at += 6) {
      const weighted = areas[i] * rows[at + r];
      m0 += weighted * rows[at];
      m1 += weighted * rows[at + 1];
      m2 += weighted * rows[at + 2];
      m3 += weighted * rows[at + 3];
      m4 += weighted * rows[at + 4];
      m5 += weighted * rows[at + 5];
    }
    matrix[6 * r] = m0;
    matrix[6 * r + 1] = m1;
    matrix[6 * r + 2] = m2;
    matrix[6 * r + 3] = m3;
    matrix[6 * r + 4] = m4;
    matrix[6 * r + 5] = m5;
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
  return { axis, point };
}

/** How far each point lies off a torus, outward. */
function residualsInto(
  out: Float64Array,
  points: Float64Array,
  { axis: [ax, ay, az], point: [ox, oy, oz] }: Axis,
  ring: number,
  tube: number,
): void {
  for (let i = 0, at = 0; at < points.length; i++, at += 3) {
    const px = points[at] - ox;
    const py = points[at + 1] - oy;
    const pz = points[at + 2] - oz;
    const z = px * ax + py * ay + pz * az;
    const rho = length3(px - z * ax, py - z * ay, pz - z * az) - ring;
    out[i] = Math.sqrt(rho * rho + z * z) - tube;
  }
}

function worstOff(corners: Float64Array, place: Axis, ring: number, tube: number): number {
  const count = corners.length / 3;
  const off = roomForRows(1, count);
  residualsInto(off, corners, place, ring, tube);
  let most = 0;
  for (let i = 0; i < count; i++) most = Math.max(most, Math.abs(off[i]));
  return most;
}
