import type { FaceKind } from '../face-table.ts';
import { dot } from '../fit-vectors.ts';
import { leastSquares } from '../least-squares.ts';
import { Axial } from './axial.ts';
import { ConeSurface } from './cone-surface.ts';
import { CylinderSurface } from './cylinder-surface.ts';
import type { KnownSurface, Point } from './known-surface.ts';
import { levelsOf } from './levels-of.ts';
import { SphereSurface } from './sphere-surface.ts';
import { TorusSurface } from './torus-surface.ts';

/** Rings of corners on a torus or sphere: three of any two bevels lie on one, and so do two and the middle of a flat end. */
const LEAST_LEVELS = 4;
const APART_RAD = 5e-3;
/** A cone that opens by less is a cylinder. */
const LEAST_SLOPE = 1e-6;

/**
 * A surface of a kind about a centre and an axis that are known, its radii from all corners; undefined where they make none.
 *
 * @param corners on it, three numbers each
 * @param facing mean direction of the face's triangles: the axis of one that was turned
 */
export function measuredSurface(
  kind: FaceKind,
  centre: Point,
  axis: ArrayLike<number>,
  corners: Float64Array,
  facing: ArrayLike<number>,
): KnownSurface | undefined {
  const count = corners.length / 3;
  const at = (i: number): Float64Array => corners.subarray(3 * i, 3 * i + 3);
  if (kind === 'sphere') {
    let radius = 0;
    for (let i = 0; i < count; i++) {
      const p = at(i);
      radius += Math.hypot(p[0] - centre[0], p[1] - centre[1], p[2] - centre[2]) / count;
    }
    const heights = Float64Array.from({ length: count }, (_, i) => dot(at(i), facing) / radius);
    return levelsOf(heights, APART_RAD, LEAST_LEVELS) < LEAST_LEVELS
      ? undefined
      : new SphereSurface(centre, radius);
  }
  if (kind === 'plane' || kind === 'free') return undefined;
  const axial = new Axial(centre, axis);
  const radii = Float64Array.from({ length: count }, (_, i) => axial.radius(at(i)));
  if (kind === 'cylinder')
    return new CylinderSurface(
      axial,
      radii.reduce((sum, r) => sum + r / count, 0),
    );
  const heights = Float64Array.from({ length: count }, (_, i) => axial.height(at(i)));
  if (kind === 'cone') {
    const [base, slope] = leastSquares(2, (add) => heights.forEach((z, i) => add([1, z], radii[i])));
    if (!(Math.abs(slope) > LEAST_SLOPE)) return undefined;
    const tip = axial.axis.map((along, k) => centre[k] - (base / slope) * along);
    const opening = axial.axis.map((along) => along * Math.sign(slope));
    return new ConeSurface(new Axial(tip, opening), Math.atan(Math.abs(slope)));
  }
  // r² + z² = 2 R r + q² − R²
  const [twice, rest] = leastSquares(2, (add) => {
    for (let i = 0; i < count; i++) add([radii[i], 1], radii[i] * radii[i] + heights[i] * heights[i]);
  });
  const ring = twice / 2;
  const pipe2 = rest + ring * ring;
  if (!(ring > 0 && pipe2 > 0)) return undefined;
  const turns = heights.map((z, i) => Math.atan2(z, radii[i] - ring));
  if (levelsOf(turns, APART_RAD, LEAST_LEVELS) < LEAST_LEVELS) return undefined;
  return new TorusSurface(axial, ring, Math.sqrt(pipe2));
}
