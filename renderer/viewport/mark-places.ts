import type { PlacePx } from './label-places.ts';

/** Steps aside of a sign, pixels, the nearest first: none, then around in two rings. */
const ASIDE: readonly PlacePx[] = [
  { x: 0, y: 0 },
  ...[26, 46].flatMap((radius) =>
    [-90, -45, -135, 0, 180, 45, 135, 90].map((degrees) => {
      const angle = (degrees * Math.PI) / 180;
      return { x: radius * Math.cos(angle), y: radius * Math.sin(angle) };
    }),
  ),
];

/**
 * How far each sign goes aside of its place on the picture, so that none lies on another or on what is taken: a badge,
 * a pin's foot. Where there is no room at all it stays.
 * @param halfPx half the side of a sign
 */
export function marksAside(
  places: readonly PlacePx[],
  halfPx: number,
  taken: readonly (PlacePx & { readonly radiusPx: number })[],
): PlacePx[] {
  const full: (PlacePx & { readonly radiusPx: number })[] = [...taken];
  return places.map(({ x, y }) => {
    const isFree = (step: PlacePx): boolean =>
      full.every(
        (other) =>
          Math.abs(x + step.x - other.x) >= halfPx + other.radiusPx ||
          Math.abs(y + step.y - other.y) >= halfPx + other.radiusPx,
      );
    const step = ASIDE.find(isFree) ?? ASIDE[0]!;
    full.push({ x: x + step.x, y: y + step.y, radiusPx: halfPx });
    return step;
  });
}
