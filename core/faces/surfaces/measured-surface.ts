import type { FaceKind } from '../face-table.ts';
import { dotAt, hypot3 } from '../fit-vectors.ts';
import { roomForRows, solveRows } from '../least-squares.ts';
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

/** The corner at hand. */
const POINT = new Float64Array(3);

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
  if (kind === 'sphere') {
    let radius = 0;
    for (let i = 0; i < corners.length; i += 3) {
      const [x, y, z] = [corners[i] - centre[0], corners[i + 1] - centre[1], corners[i + 2] - centre[2]];
      radius += hypot3(x, y, z) / count;
    }
    const heights = new Float64Array(count);
    for (let i = 0; i < count; i++) heights[i] = dotAt(corners, 3 * i, facing) / radius;
    return levelsOf(heights, APART_RAD, LEAST_LEVELS) < LEAST_LEVELS
      ? undefined
      : new SphereSurface(centre, radius);
  }
  if (kind === 'plane' || kind === 'free') return undefined;
  const axial = new Axial(centre, axis);
  const radii = new Float64Array(count);
  const heights = new Float64Array(count);
  let mean = 0;
  for (let i = 0; i < count; i++) {
    for (let k = 0; k < 3; k++) POINT[k] = corners[3 * i + k];
    radii[i] = axial.radius(POINT);
    heights[i] = axial.height(POINT);
    mean += radii[i] / count;
  }
  if (kind === 'cylinder') return new CylinderSurface(axial, mean);
  const rows = roomForRows(3, count);
  if (kind === 'cone') {
    for (let i = 0; i < count; i++) {
      rows[3 * i] = 1;
      rows[3 * i + 1] = heights[i];
      rows[3 * i + 2] = radii[i];
    }
    const [base, slope] = solveRows(2, count);
    if (!(Math.abs(slope) > LEAST_SLOPE)) return undefined;
    const tip = axial.axis.map((along, k) => centre[k] - (base / slope) * along);
    const opening = axial.axis.map((along) => along * Math.sign(slope));
    return new ConeSurface(new Axial(tip, opening), Math.atan(Math.abs(slope)));
  }
  // r² + z² = 2 R r + q² − R²
  for (let i = 0; i < count; i++) {
    rows[3 * i] = radii[i];
    rows[3 * i + 1] = 1;
    rows[3 * i + 2] = radii[i] * radii[i] + heights[i] * heights[i];
  }
  const [twice, rest] = solveRows(2, count);
  const ring = twice / 2;
  const pipe2 = rest + ring * ring;
  if (!(ring > 0 && pipe2 > 0)) return undefined;
  const turns = heights.map((z, i) => Math.atan2(z, radii[i] - ring));
  if (levelsOf(turns, APART_RAD, LEAST_LEVELS) < LEAST_LEVELS) return undefined;
  return new TorusSurface(axial, ring, Math.sqrt(pipe2));
}
