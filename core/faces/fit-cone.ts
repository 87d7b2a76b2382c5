import {
  directions,
  facesInward,
  thinned,
  type FaceSample,
  type FaceShape,
  type Tolerance,
} from './face-sample.ts';
import { along, distanceFromAxis, dot, dot3, dotAt, frame, sum, unit, type Vec3 } from './fit-vectors.ts';
import { gaussNewton, roomForRows, solveRows } from './least-squares.ts';
import { symmetricEigen } from './symmetric-eigen.ts';

/** Half-angle below which a cone is a cylinder: a turned part's taper over its length is less. */
const CYLINDER_HALF_ANGLE_RAD = 2e-3;

/** Corners that a refinement looks at. */
const REFINED_ON = 96;

/**
 * A cylinder, or a cone where the distance from the axis changes along it; undefined when the corners lie on neither.
 *
 * @param centre mean of the facets' normals, by their areas
 */
export function fitCone(sample: FaceSample, centre: Vec3, tolerance: Tolerance): FaceShape | undefined {
  // On a cylinder or cone all normals make one angle with the axis: their tips lie in a plane across it.
  const covariance = covarianceOf(sample, centre);
  const axis = symmetricEigen(covariance, 3).vectors[0];
  const d = centre[0] * axis[0] + centre[1] * axis[1] + centre[2] * axis[2];
  for (let i = 0; i < sample.count; i++) {
    if (Math.abs(dot3(sample.normals, i, axis) - d) > 0.1) return undefined;
  }
  const first = coneAlong(sample.corners, axis);
  let fit = first;
  if (first.worst > tolerance(first.radius)) {
    if (first.worst > 0.2 * first.radius) return undefined;
    fit = sharpenCone(sample.corners, first, tolerance(first.radius));
    if (fit.worst > tolerance(fit.radius)) {
      // Few facets have few corners, and some circle goes through most of any few.
      if (directions(sample, LEAST_FACETS) < LEAST_FACETS) return undefined;
      const outer = coneOfOuterCorners(sample.corners, first, tolerance);
      if (!outer) return undefined;
      fit = outer;
    }
  }
  // Tilt of the facets against the fit: corners of two rings fit many cones, its normals only one.
  const cosine = Math.cos(Math.atan(fit.slope));
  const tilt = Math.abs(dot(centre, fit.axis)) - Math.abs(Math.sin(Math.atan(fit.slope)));
  if (Math.abs(tilt) > 0.1 * cosine + 0.02) return undefined;
  const inward = facesInward(sample, fit.point, fit.axis);
  const halfAngle = Math.atan(Math.abs(fit.slope));
  return halfAngle < CYLINDER_HALF_ANGLE_RAD
    ? { kind: 'cylinder', size: fit.radius, axis: fit.axis, point: fit.point, inward }
    : { kind: 'cone', size: halfAngle, axis: fit.axis, point: fit.point, inward };
}

/** Of the tips of the normals, by their facets' areas, about their middle. */
function covarianceOf({ count, normals, areas }: FaceSample, [cx, cy, cz]: Vec3): Float64Array {
  const weight = sum(areas);
  let [xx, xy, xz, yx, yy, yz, zx, zy, zz] = [0, 0, 0, 0, 0, 0, 0, 0, 0];
  for (let i = 0; i < count; i++) {
    const x = normals[3 * i] - cx;
    const y = normals[3 * i + 1] - cy;
    const z = normals[3 * i + 2] - cz;
    const wx = areas[i] * x;
    const wy = areas[i] * y;
    const wz = areas[i] * z;
    xx += (wx * x) / weight;
    xy += (wx * y) / weight;
    xz += (wx * z) / weight;
    yx += (wy * x) / weight;
    yy += (wy * y) / weight;
    yz += (wy * z) / weight;
    zx += (wz * x) / weight;
    zy += (wz * y) / weight;
    zz += (wz * z) / weight;
  }
  return Float64Array.of(xx, xy, xz, yx, yy, yz, zx, zy, zz);
}

/**
 * Bodies joined or cut as meshes have corners where one body's facets met the other's: those lie on chords, inside
 * the true surface, by up to the facet's sagitta. So the fit is made on the outer corners alone, and accepted when
 * none lies outside, none further inside than a facet of LARGEST_FACET_RAD would reach, and enough of them on it.
 */
function coneOfOuterCorners(
  corners: Float64Array,
  first: ConeFit,
  tolerance: Tolerance,
): ConeFit | undefined {
  let fit = first;
  for (let pass = 0; pass < 4; pass++) {
    const off = offsets(corners, fit);
    const middle = off.toSorted()[Math.floor(off.length / 2)];
    const outer: number[] = [];
    for (let i = 0; i < off.length; i++) {
      if (off[i] >= middle) outer.push(corners[3 * i], corners[3 * i + 1], corners[3 * i + 2]);
    }
    fit = coneAlong(Float64Array.from(outer), first.axis);
  }
  const limit = tolerance(fit.radius);
  const off = offsets(corners, fit);
  const inside = (1 - Math.cos(LARGEST_FACET_RAD / 2)) * fit.radius;
  let on = 0;
  for (const distance of off) {
    if (distance > limit || distance < -inside) return undefined;
    if (distance > -limit) on++;
  }
  return on >= ENOUGH_ON_SURFACE * off.length ? fit : undefined;
}

const LARGEST_FACET_RAD = (35 * Math.PI) / 180;
const ENOUGH_ON_SURFACE = 0.4;
const LEAST_FACETS = 6;

/** How far each corner lies outside the fit, measured across the axis. */
function offsets(corners: Float64Array, fit: ConeFit): Float64Array {
  const off = new Float64Array(corners.length / 3);
  for (let i = 0; i < corners.length; i += 3) {
    off[i / 3] =
      distanceFromAxis(corners, i, fit.point, fit.axis) -
      fit.base -
      fit.slope * along(corners, i, fit.point, fit.axis);
  }
  return off;
}

interface ConeFit {
  readonly axis: Vec3;
  readonly point: Vec3;
  /** Mean distance of the corners from the axis. */
  readonly radius: number;
  /** Distance from the axis beside `point` … */
  readonly base: number;
  /** … and gained per length along it. */
  readonly slope: number;
  readonly worst: number;
}

/** Best cone about a known axis direction: (x − cx)² + (y − cy)² = quadratic in z, linear in its unknowns. */
function coneAlong(corners: Float64Array, direction: ArrayLike<number>): ConeFit {
  const [u, v, w] = frame(direction);
  const rows = roomForRows(6, corners.length / 3);
  for (let i = 0, at = 0; i < corners.length; i += 3, at += 6) {
    const x = dotAt(corners, i, u);
    const y = dotAt(corners, i, v);
    const z = dotAt(corners, i, w);
    rows[at] = 2 * x;
    rows[at + 1] = 2 * y;
    rows[at + 2] = 1;
    rows[at + 3] = z;
    rows[at + 4] = z * z;
    rows[at + 5] = x * x + y * y;
  }
  const middle = solveRows(5, corners.length / 3);
  const p = middle[0];
  const q = middle[1];
  return measureCone(corners, w, [p * u[0] + q * v[0], p * u[1] + q * v[1], p * u[2] + q * v[2]]);
}

function measureCone(corners: Float64Array, axis: Vec3, point: Vec3): ConeFit {
  const count = corners.length / 3;
  const rows = roomForRows(3, count);
  for (let i = 0; i < corners.length; i += 3) {
    rows[i] = 1;
    rows[i + 1] = along(corners, i, point, axis);
    rows[i + 2] = distanceFromAxis(corners, i, point, axis);
  }
  const line = solveRows(2, count);
  const base = line[0];
  const slope = line[1];
  let worst = 0;
  let radius = 0;
  for (let i = 0; i < corners.length; i += 3) {
    const rho = rows[i + 2];
    worst = Math.max(worst, Math.abs(rho - base - slope * rows[i + 1]));
    radius += rho;
  }
  return { axis, point, radius: radius / count, base, slope, worst };
}

function sharpenCone(all: Float64Array, fit: ConeFit, limit: number): ConeFit {
  const corners = thinned(all, REFINED_ON);
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
    limit / 4,
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
  return measureCone(all, axis, point);
}
