import { leastSquares } from '../least-squares.ts';
import { unit } from '../fit-vectors.ts';
import type { KnownSurface } from './known-surface.ts';

/**
 * Moves and turns centre and axis so that the corners come nearer to the surface: one Gauss–Newton step in the three shifts, the three
 * turns about the corners' middle, a radius, and how far a cone opens or how wide a torus's ring is. The first fit of a face goes by a sample of it.
 *
 * @param corners on the surface, three numbers each
 */
export function settled(
  surface: KnownSurface,
  centre: Float64Array,
  axis: Float64Array,
  corners: Float64Array,
): { readonly centre: Float64Array<ArrayBuffer>; readonly axis: Float64Array<ArrayBuffer> } {
  const count = corners.length / 3;
  const middle = [0, 0, 0];
  let size = 0;
  for (let i = 0; i < corners.length; i++) middle[i % 3] += corners[i] / count;
  for (let i = 0; i < corners.length; i++) size = Math.max(size, Math.abs(corners[i] - middle[i % 3]));
  const n = new Float64Array(3);
  const row = new Float64Array(8).fill(1);
  const swells = evenedOut(corners, surface);
  const step = leastSquares(8, (add) => {
    for (let i = 0; i < corners.length; i += 3) {
      const p = corners.subarray(i, i + 3);
      row[7] = swells[i / 3];
      surface.normalInto(n, p);
      const [x, y, z] = [(p[0] - middle[0]) / size, (p[1] - middle[1]) / size, (p[2] - middle[2]) / size];
      row[0] = n[0];
      row[1] = n[1];
      row[2] = n[2];
      row[3] = n[2] * y - n[1] * z;
      row[4] = n[0] * z - n[2] * x;
      row[5] = n[1] * x - n[0] * y;
      add(row, surface.off(p));
    }
  });
  const turn = [step[3] / size, step[4] / size, step[5] / size];
  const across = (v: ArrayLike<number>): number[] => [
    turn[1] * v[2] - turn[2] * v[1],
    turn[2] * v[0] - turn[0] * v[2],
    turn[0] * v[1] - turn[1] * v[0],
  ];
  const moved = across(centre.map((value, k) => value - middle[k]));
  const turned = across(axis);
  return {
    centre: Float64Array.from(centre, (value, k) => value + step[k] + moved[k]),
    axis: Float64Array.from(unit(axis.map((value, k) => value + turned[k]))),
  };
}

/** What the surface swells by over the corners, between −1 and 1 about its mean. */
function evenedOut(corners: Float64Array, surface: KnownSurface): Float64Array {
  const count = corners.length / 3;
  const swells = Float64Array.from({ length: count }, (_, i) =>
    surface.swell(corners.subarray(3 * i, 3 * i + 3)),
  );
  const mean = swells.reduce((sum, value) => sum + value / count, 0);
  const most = swells.reduce((least, value) => Math.max(least, Math.abs(value - mean)), 0);
  return most > 0 ? swells.map((value) => (value - mean) / most) : swells;
}
