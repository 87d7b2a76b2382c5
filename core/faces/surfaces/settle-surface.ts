import { roomForRows, solveRows } from '../least-squares.ts';
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
  for (let k = 0; k < 3; k++) {
    for (let i = k; i < corners.length; i += 3) middle[k] += corners[i] / count;
    for (let i = k; i < corners.length; i += 3) size = Math.max(size, Math.abs(corners[i] - middle[k]));
  }
  const n = new Float64Array(3);
  const p = new Float64Array(3);
  const swells = evenedOut(corners, surface);
  const rows = roomForRows(9, count);
  for (let i = 0, at = 0; i < corners.length; i += 3, at += 9) {
    p[0] = corners[i];
    p[1] = corners[i + 1];
    p[2] = corners[i + 2];
    surface.normalInto(n, p);
    const x = (p[0] - middle[0]) / size;
    const y = (p[1] - middle[1]) / size;
    const z = (p[2] - middle[2]) / size;
    rows[at] = n[0];
    rows[at + 1] = n[1];
    rows[at + 2] = n[2];
    rows[at + 3] = n[2] * y - n[1] * z;
    rows[at + 4] = n[0] * z - n[2] * x;
    rows[at + 5] = n[1] * x - n[0] * y;
    rows[at + 6] = 1;
    rows[at + 7] = swells[i / 3];
    rows[at + 8] = surface.off(p);
  }
  const step = solveRows(8, count);
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
  const swells = new Float64Array(count);
  const p = new Float64Array(3);
  let mean = 0;
  for (let i = 0; i < count; i++) {
    for (let k = 0; k < 3; k++) p[k] = corners[3 * i + k];
    swells[i] = surface.swell(p);
    mean += swells[i] / count;
  }
  const most = swells.reduce((least, value) => Math.max(least, Math.abs(value - mean)), 0);
  return most > 0 ? swells.map((value) => (value - mean) / most) : swells;
}
