import type { Manifold, ManifoldToplevel } from 'manifold-3d';

/** Facets on a full turn: with 96 the area of a round wall is within 0.02 % of the true one. */
export const ROUND = 96;

/** A cylinder from `from` along an axis, its facets' corners on the circle. All lengths in mm. */
export function rod(
  { Manifold }: ManifoldToplevel,
  axis: 'x' | 'y' | 'z',
  diameterMm: number,
  lengthMm: number,
  from: readonly [number, number, number],
  segments = ROUND,
): Manifold {
  const upright = Manifold.cylinder(lengthMm, diameterMm / 2, diameterMm / 2, segments);
  const turned =
    axis === 'z' ? upright : axis === 'x' ? upright.rotate([0, 90, 0]) : upright.rotate([-90, 0, 0]);
  return turned.translate([...from]);
}

/** An upright slot with round ends along x, `lengthMm` from end to end, centred on x = `atX`, y = 0. */
export function slot(
  { Manifold }: ManifoldToplevel,
  lengthMm: number,
  widthMm: number,
  heightMm: number,
  atX: number,
  fromZ: number,
): Manifold {
  const end = (lengthMm - widthMm) / 2;
  const pin = Manifold.cylinder(heightMm, widthMm / 2, widthMm / 2, ROUND);
  return Manifold.hull([pin.translate([atX - end, 0, fromZ]), pin.translate([atX + end, 0, fromZ])]);
}
