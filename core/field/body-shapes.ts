import type { Vec3 } from '../racking/vec3.ts';
import { add, anyPerpendicular, cross, scale, subtract, unit } from '../racking/vec3.ts';

/** Closed triangulated bodies for what stands in the tank, 9 numbers a triangle, m, outward. */

export function boxBody(low: Vec3, high: Vec3): Float64Array {
  return prismBody(
    [
      [low[0], low[1]],
      [high[0], low[1]],
      [high[0], high[1]],
      [low[0], high[1]],
    ],
    low[2],
    high[2],
  );
}

/** Upright prism over a convex outline in x and y, counter-clockwise seen from above. Walls first, two triangles a side, then floor and top. */
export function prismBody(
  outline: readonly (readonly [number, number])[],
  lowM: number,
  highM: number,
): Float64Array {
  const out: number[] = [];
  const count = outline.length;
  for (let n = 0; n < count; n++) {
    const [ax, ay] = outline[n];
    const [bx, by] = outline[(n + 1) % count];
    out.push(ax, ay, lowM, bx, by, lowM, bx, by, highM);
    out.push(ax, ay, lowM, bx, by, highM, ax, ay, highM);
  }
  for (let n = 1; n + 1 < count; n++) {
    const [a, b, c] = [outline[0], outline[n], outline[n + 1]];
    out.push(a[0], a[1], lowM, c[0], c[1], lowM, b[0], b[1], lowM);
    out.push(a[0], a[1], highM, b[0], b[1], highM, c[0], c[1], highM);
  }
  return Float64Array.from(out);
}

/** Many-sided outline with the circle's own area. */
export function roundOutline(radiusM: number, sides: number): [number, number][] {
  const step = (2 * Math.PI) / sides;
  const r = radiusM * Math.sqrt(step / Math.sin(step));
  return Array.from({ length: sides }, (_, n): [number, number] => [
    r * Math.cos(n * step),
    r * Math.sin(n * step),
  ]);
}

/** A straight wire or rod from one point to another; its section has the circle's perimeter, since its skin is what counts. */
export function rodBody(from: Vec3, to: Vec3, diameterM: number, sides = 12): Float64Array {
  const along = unit(subtract(to, from));
  const x = anyPerpendicular(along);
  const y = cross(along, x);
  const radiusM = (Math.PI * diameterM) / (2 * sides * Math.sin(Math.PI / sides));
  const ring = (centre: Vec3, n: number): Vec3 => {
    const angle = (2 * Math.PI * (n % sides)) / sides;
    return add(centre, add(scale(x, radiusM * Math.cos(angle)), scale(y, radiusM * Math.sin(angle))));
  };
  const out: number[] = [];
  for (let n = 0; n < sides; n++) {
    const [a, b, c, d] = [ring(from, n), ring(from, n + 1), ring(to, n + 1), ring(to, n)];
    out.push(...a, ...b, ...c, ...a, ...c, ...d, ...from, ...b, ...a, ...to, ...d, ...c);
  }
  return Float64Array.from(out);
}
