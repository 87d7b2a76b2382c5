import { directions, type FaceSample, type FaceShape, type Tolerance } from './face-sample.ts';
import { fitCone } from './fit-cone.ts';
import { fitSphere } from './fit-sphere.ts';
import { fitTorus } from './fit-torus.ts';
import { dot, dotAt, sum, unit, type Vec3 } from './fit-vectors.ts';

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
  const agreement = Math.sqrt(dot(mean, mean));
  const up = unit(mean);
  // Where the normals cancel out (a whole cylinder) there is no mean direction; the face is as deep as it is large.
  const depth = agreement > 1e-3 ? extentAlong(sample.corners, up) : 1;
  if (agreement > 0.99 && depth <= Math.max(NOISE_STEPS * sample.noise, PLANE_DEPTH)) {
    return { kind: 'plane', size: 0, axis: up, point: middle(sample.corners, up), inward: false };
  }
  if (directions(sample, 4) < 3) return free;
  const tolerance: Tolerance = (radius) =>
    Math.max(NOISE_STEPS * sample.noise, Math.min(DEPTH_SHARE * depth, RADIUS_SHARE * radius));
  return (
    fitCone(sample, mean, tolerance) ??
    (directions(sample, 4) < 4 ? undefined : (fitSphere(sample, tolerance) ?? fitTorus(sample, tolerance))) ??
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
/** Area-weighted mean of the facets' normals: length 1 where all agree, 0 where they cancel out. */
function meanNormal({ count, normals, areas }: FaceSample): Vec3 {
  const area = sum(areas);
  let [x, y, z] = [0, 0, 0];
  for (let i = 0; i < count; i++) {
    x += (areas[i] * normals[3 * i]) / area;
    y += (areas[i] * normals[3 * i + 1]) / area;
    z += (areas[i] * normals[3 * i + 2]) / area;
  }
  return [x, y, z];
}

function extentAlong(corners: Float64Array, direction: Vec3): number {
  let low = Infinity;
  let high = -Infinity;
  for (let i = 0; i < corners.length; i += 3) {
    const d = dotAt(corners, i, direction);
    if (d < low) low = d;
    if (d > high) high = d;
  }
  return high - low;
}

function middle(corners: Float64Array, direction: Vec3): Vec3 {
  let total = 0;
  for (let i = 0; i < corners.length; i += 3) total += dotAt(corners, i, direction);
  const d = total / (corners.length / 3);
  return [d * direction[0], d * direction[1], d * direction[2]];
}
