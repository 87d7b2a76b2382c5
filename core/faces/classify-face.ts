import type { FaceKind } from './face-table.ts';
import { gaussNewton, leastSquares } from './least-squares.ts';
import { symmetricEigen } from './symmetric-eigen.ts';

/** Triangles of one face (all, or an even sample of a large face), moved to its middle and scaled to size 1. */
export interface FaceSample {
  readonly count: number;
  /** 9 a triangle. */
  readonly corners: Float64Array;
  /** 3 a triangle, unit length. */
  readonly normals: Float64Array;
  /** 1 a triangle. */
  readonly areas: Float64Array;
  /** One step of the coordinates, in the same scale. */
  readonly noise: number;
}

/** What a face is, in the sample's own scale and place. */
export interface FaceShape {
  readonly kind: FaceKind;
  /** Radius of a cylinder or sphere, tube radius of a torus, half-angle of a cone in rad, 0 otherwise. */
  readonly size: number;
  /** Normal of a plane, axis of a cylinder, cone or torus (unit length, sign free), 0 0 0 otherwise. */
  readonly axis: readonly [number, number, number];
  /** On the plane or axis, or the centre of a sphere or torus. */
  readonly point: readonly [number, number, number];
  /** The surface faces its axis or centre: a bore, not a shaft. */
  readonly inward: boolean;
}

type Vec3 = readonly [number, number, number];

/**
 * Recognises plane, cylinder, cone, sphere, torus, in this order, by fitting each and asking that every corner lies
 * on it: corners of a drawn surface lie on the surface itself, its facets do not. Directions come from the facets'
 * normals; a facet's normal is the surface's own only in its middle, so axes are sharpened on the corners where the
 * first fit is near. A face is only given a curved kind when it shows at least three directions: two flats always fit
 * some cylinder.
 */
export function classifyFace(sample: FaceSample): FaceShape {
  const free: FaceShape = { kind: 'free', size: 0, axis: [0, 0, 0], point: [0, 0, 0], inward: false };
  if (sample.count === 0 || !(sum(sample.areas) > 0)) return free;
  const mean = meanNormal(sample);
  const depth = extentAlong(sample.corners, mean);
  if (depth <= Math.max(NOISE_STEPS * sample.noise, PLANE_DEPTH)) {
    return { kind: 'plane', size: 0, axis: mean, point: middle(sample.corners, mean), inward: false };
  }
  if (directions(sample, 4) < 3) return free;
  const tolerance = (radius: number) =>
    Math.max(NOISE_STEPS * sample.noise, Math.min(DEPTH_SHARE * depth, RADIUS_SHARE * radius));
  return (
    cylinderOrCone(sample, tolerance) ??
    (directions(sample, 4) < 4 ? undefined : (sphere(sample, tolerance) ?? torus(sample, tolerance))) ??
    free
  );
}

/** A corner may be this many coordinate steps off. */
const NOISE_STEPS = 8;
/** Share of its size by which a plane may be out of flat: files with three decimals are 2e-5 of a 30 mm part off. */
const PLANE_DEPTH = 5e-5;
/** Corners are on the surface within a hundredth of the face's depth … */
const DEPTH_SHARE = 0.01;
/** … and within two thousandths of its radius. */
const RADIUS_SHARE = 2e-3;
/** Half-angle below which a cone is a cylinder: a turned part's taper over its length is less. */
const CYLINDER_HALF_ANGLE_RAD = 2e-3;

function cylinderOrCone(sample: FaceSample, tolerance: (radius: number) => number): FaceShape | undefined {
  // On a cylinder or cone all normals make one angle with the axis: their tips lie in a plane across it.
  const covariance = new Float64Array(9);
  const weight = sum(sample.areas);
  const centre = [0, 0, 0];
  for (let i = 0; i < sample.count; i++) {
    for (let k = 0; k < 3; k++) centre[k] += (sample.areas[i] * sample.normals[3 * i + k]) / weight;
  }
  for (let i = 0; i < sample.count; i++) {
    for (let k = 0; k < 9; k++) {
      const [r, c] = [Math.floor(k / 3), k % 3];
      covariance[k] +=
        (sample.areas[i] *
          (sample.normals[3 * i + r] - centre[r]) *
          (sample.normals[3 * i + c] - centre[c])) /
        weight;
    }
  }
  const axis = symmetricEigen(covariance, 3).vectors[0];
  const d = centre[0] * axis[0] + centre[1] * axis[1] + centre[2] * axis[2];
  for (let i = 0; i < sample.count; i++) {
    if (Math.abs(dot3(sample.normals, i, axis) - d) > 0.1) return undefined;
  }
  const first = coneAlong(sample.corners, axis);
  let fit = first;
  if (first.worst > tolerance(first.radius)) {
    if (first.worst > 0.2 * first.radius) return undefined;
    fit = sharpenCone(sample.corners, first);
    if (fit.worst > tolerance(fit.radius)) return undefined;
  }
  // Tilt of the facets against the fit: corners of two rings fit many cones, its normals only one.
  const cosine = Math.cos(Math.atan(fit.slope));
  const tilt = Math.abs(dot(centre, fit.axis)) - Math.abs(Math.sin(Math.atan(fit.slope)));
  if (Math.abs(tilt) > 0.1 * cosine + 0.02) return undefined;
  const inward = facesInward(sample, (x, y, z) => awayFromAxis(x, y, z, fit.point, fit.axis));
  const halfAngle = Math.atan(Math.abs(fit.slope));
  return halfAngle < CYLINDER_HALF_ANGLE_RAD
    ? { kind: 'cylinder', size: fit.radius, axis: fit.axis, point: fit.point, inward }
    : { kind: 'cone', size: halfAngle, axis: fit.axis, point: fit.point, inward };
}

interface ConeFit {
  readonly axis: Vec3;
  readonly point: Vec3;
  /** Mean distance of the corners from the axis. */
  readonly radius: number;
  /** Distance from the axis gained per length along it. */
  readonly slope: number;
  readonly worst: number;
}

/** Best cone about a known axis direction: (x − cx)² + (y − cy)² = quadratic in z, linear in its unknowns. */
function coneAlong(corners: Float64Array, direction: ArrayLike<number>): ConeFit {
  const [u, v, w] = frame(direction);
  const solution = leastSquares(5, (add) => {
    for (let i = 0; i < corners.length; i += 3) {
      const x = dotAt(corners, i, u);
      const y = dotAt(corners, i, v);
      const z = dotAt(corners, i, w);
      add([2 * x, 2 * y, 1, z, z * z], x * x + y * y);
    }
  });
  const point: Vec3 = [0, 1, 2].map((k) => solution[0] * u[k] + solution[1] * v[k]) as unknown as Vec3;
  return measureCone(corners, w, point);
}

function measureCone(corners: Float64Array, axis: Vec3, point: Vec3): ConeFit {
  const line = leastSquares(2, (add) => {
    for (let i = 0; i < corners.length; i += 3) {
      add([1, along(corners, i, point, axis)], distanceFromAxis(corners, i, point, axis));
    }
  });
  let worst = 0;
  let radius = 0;
  for (let i = 0; i < corners.length; i += 3) {
    const rho = distanceFromAxis(corners, i, point, axis);
    worst = Math.max(worst, Math.abs(rho - line[0] - line[1] * along(corners, i, point, axis)));
    radius += rho;
  }
  return { axis, point, radius: radius / (corners.length / 3), slope: line[1], worst };
}

function sharpenCone(corners: Float64Array, fit: ConeFit): ConeFit {
  const [u, v] = frame(fit.axis);
  const at = (x: Float64Array): { axis: Vec3; point: Vec3 } => ({
    axis: unit([0, 1, 2].map((k) => fit.axis[k] + x[0] * u[k] + x[1] * v[k])),
    point: [0, 1, 2].map((k) => fit.point[k] + x[2] * u[k] + x[3] * v[k]) as unknown as Vec3,
  });
  const scale = Math.min(1, fit.radius);
  const x = gaussNewton(
    Float64Array.of(0, 0, 0, 0, fit.radius, fit.slope),
    [1e-5, 1e-5, 1e-5 * scale, 1e-5 * scale, 1e-5 * scale, 1e-5],
    corners.length / 3,
    (unknowns, out) => {
      const { axis, point } = at(unknowns);
      for (let i = 0; i < corners.length; i += 3) {
        out[i / 3] =
          distanceFromAxis(corners, i, point, axis) -
          unknowns[4] -
          unknowns[5] * along(corners, i, point, axis);
      }
    },
  );
  const { axis, point } = at(x);
  return measureCone(corners, axis, point);
}

function sphere(sample: FaceSample, tolerance: (radius: number) => number): FaceShape | undefined {
  const { corners } = sample;
  const [cx, cy, cz] = leastSquares(4, (add) => {
    for (let i = 0; i < corners.length; i += 3) {
      const [x, y, z] = [corners[i], corners[i + 1], corners[i + 2]];
      add([2 * x, 2 * y, 2 * z, 1], x * x + y * y + z * z);
    }
  });
  let radius = 0;
  const distances = new Float64Array(corners.length / 3);
  for (let i = 0; i < corners.length; i += 3) {
    distances[i / 3] = Math.hypot(corners[i] - cx, corners[i + 1] - cy, corners[i + 2] - cz);
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

function torus(sample: FaceSample, tolerance: (radius: number) => number): FaceShape | undefined {
  const { corners } = sample;
  // Every normal of a surface of revolution meets its axis: a · (p × n) + n · (c × a) = 0, linear in a and c × a.
  const matrix = new Float64Array(36);
  const row = new Float64Array(6);
  for (let i = 0; i < sample.count; i++) {
    const p = triangleMiddle(corners, i);
    const [nx, ny, nz] = sample.normals.subarray(3 * i, 3 * i + 3);
    row.set([p[1] * nz - p[2] * ny, p[2] * nx - p[0] * nz, p[0] * ny - p[1] * nx, nx, ny, nz]);
    for (let r = 0; r < 6; r++) {
      for (let c = 0; c < 6; c++) matrix[6 * r + c] += sample.areas[i] * row[r] * row[c];
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
  const circle = leastSquares(3, (add) => {
    for (let i = 0; i < corners.length; i += 3) {
      const rho = distanceFromAxis(corners, i, point, axis);
      const z = along(corners, i, point, axis);
      add([2 * rho, 2 * z, 1], rho * rho + z * z);
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
  const residuals = (x: Float64Array, out: Float64Array): void => {
    const now = at(x);
    for (let i = 0; i < corners.length; i += 3) {
      const rho = distanceFromAxis(corners, i, now.point, now.axis);
      out[i / 3] = Math.hypot(rho - x[5], along(corners, i, now.point, now.axis)) - x[6];
    }
  };
  let x: Float64Array = Float64Array.of(0, 0, 0, 0, 0, ring, tube);
  const out = new Float64Array(corners.length / 3);
  const limit = tolerance(tube);
  const worst = (): number => {
    residuals(x, out);
    return out.reduce((most, r) => Math.max(most, Math.abs(r)), 0);
  };
  if (worst() > limit) {
    if (worst() > 0.3 * tube) return undefined;
    const step = 1e-5 * Math.min(1, tube);
    x = gaussNewton(x, [1e-5, 1e-5, step, step, step, step, step], out.length, residuals);
    if (worst() > tolerance(Math.abs(x[6]))) return undefined;
  }
  const found = at(x);
  const inward = facesInward(sample, (px, py, pz) => {
    const away = awayFromAxis(px, py, pz, found.point, found.axis);
    const rim = unit(away);
    return [0, 1, 2].map((k) => [px, py, pz][k] - found.point[k] - x[5] * rim[k]) as unknown as Vec3;
  });
  return { kind: 'torus', size: Math.abs(x[6]), axis: found.axis, point: found.point, inward };
}

function facesInward(sample: FaceSample, away: (x: number, y: number, z: number) => Vec3): boolean {
  let facing = 0;
  for (let i = 0; i < sample.count; i++) {
    const m = triangleMiddle(sample.corners, i);
    facing += sample.areas[i] * dot3(sample.normals, i, away(m[0], m[1], m[2]));
  }
  return facing < 0;
}

/** Different directions among the facets, counted up to `most`. */
function directions(sample: FaceSample, most: number): number {
  const seen: number[] = [];
  for (let i = 0; i < sample.count && seen.length < most; i++) {
    const isNew = seen.every((s) => {
      const d = [0, 1, 2].map((k) => sample.normals[3 * i + k] - sample.normals[3 * s + k]);
      return dot(d, d) > 1e-6;
    });
    if (isNew) seen.push(i);
  }
  return seen.length;
}

function meanNormal(sample: FaceSample): Vec3 {
  const mean = [0, 0, 0];
  for (let i = 0; i < sample.count; i++) {
    for (let k = 0; k < 3; k++) mean[k] += sample.areas[i] * sample.normals[3 * i + k];
  }
  return unit(mean);
}

function extentAlong(corners: Float64Array, direction: Vec3): number {
  let low = Infinity;
  let high = -Infinity;
  for (let i = 0; i < corners.length; i += 3) {
    const d = dotAt(corners, i, direction);
    low = Math.min(low, d);
    high = Math.max(high, d);
  }
  return high - low;
}

function middle(corners: Float64Array, direction: Vec3): Vec3 {
  let total = 0;
  for (let i = 0; i < corners.length; i += 3) total += dotAt(corners, i, direction);
  const d = total / (corners.length / 3);
  return [d * direction[0], d * direction[1], d * direction[2]];
}

function triangleMiddle(corners: Float64Array, i: number): Vec3 {
  const o = 9 * i;
  return [0, 1, 2].map(
    (k) => (corners[o + k] + corners[o + 3 + k] + corners[o + 6 + k]) / 3,
  ) as unknown as Vec3;
}

function along(corners: Float64Array, i: number, point: Vec3, axis: Vec3): number {
  return (
    (corners[i] - point[0]) * axis[0] +
    (corners[i + 1] - point[1]) * axis[1] +
    (corners[i + 2] - point[2]) * axis[2]
  );
}

function distanceFromAxis(corners: Float64Array, i: number, point: Vec3, axis: Vec3): number {
  const x = corners[i] - point[0];
  const y = corners[i + 1] - point[1];
  const z = corners[i + 2] - point[2];
  const d = x * axis[0] + y * axis[1] + z * axis[2];
  return Math.hypot(x - d * axis[0], y - d * axis[1], z - d * axis[2]);
}

function awayFromAxis(px: number, py: number, pz: number, point: Vec3, axis: Vec3): Vec3 {
  const x = px - point[0];
  const y = py - point[1];
  const z = pz - point[2];
  const d = x * axis[0] + y * axis[1] + z * axis[2];
  return [x - d * axis[0], y - d * axis[1], z - d * axis[2]];
}

/** Two unit vectors across `direction`, and `direction` itself at unit length. */
function frame(direction: ArrayLike<number>): readonly [Vec3, Vec3, Vec3] {
  const w = unit(direction);
  const least = Math.abs(w[0]) < 0.6 ? [1, 0, 0] : [0, 1, 0];
  const u = unit([
    least[1] * w[2] - least[2] * w[1],
    least[2] * w[0] - least[0] * w[2],
    least[0] * w[1] - least[1] * w[0],
  ]);
  return [u, [w[1] * u[2] - w[2] * u[1], w[2] * u[0] - w[0] * u[2], w[0] * u[1] - w[1] * u[0]], w];
}

function unit(v: ArrayLike<number>): Vec3 {
  const length = Math.hypot(v[0], v[1], v[2]) || 1;
  return [v[0] / length, v[1] / length, v[2] / length];
}

function dot(a: ArrayLike<number>, b: ArrayLike<number>): number {
  return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}

function dot3(values: Float64Array, i: number, v: ArrayLike<number>): number {
  return values[3 * i] * v[0] + values[3 * i + 1] * v[1] + values[3 * i + 2] * v[2];
}

function dotAt(values: Float64Array, at: number, v: ArrayLike<number>): number {
  return values[at] * v[0] + values[at + 1] * v[1] + values[at + 2] * v[2];
}

function sum(values: Float64Array): number {
  let total = 0;
  for (const value of values) total += value;
  return total;
}
