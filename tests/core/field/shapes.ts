/** Closed triangulated shapes for the reference problems, 9 numbers a triangle, m, counter-clockwise seen from outside. */
type Point = readonly [number, number, number];

/** Surface of revolution about z through the profile's points (radius, height), from the top pole or edge to the bottom one. */
export function revolved(
  profile: readonly (readonly [radiusM: number, heightM: number])[],
  around: number,
  centre: Point = [0, 0, 0],
): Float64Array {
  const at = (row: number, column: number): Point => {
    const angle = (2 * Math.PI * (column % around)) / around;
    const [r, z] = profile[row];
    return [centre[0] + r * Math.cos(angle), centre[1] + r * Math.sin(angle), centre[2] + z];
  };
  const out: number[] = [];
  for (let row = 0; row + 1 < profile.length; row++) {
    for (let column = 0; column < around; column++) {
      const a = at(row, column);
      const b = at(row, column + 1);
      const c = at(row + 1, column);
      const d = at(row + 1, column + 1);
      if (profile[row + 1][0] > 0) out.push(...a, ...c, ...d);
      if (profile[row][0] > 0) out.push(...a, ...d, ...b);
    }
  }
  return Float64Array.from(out);
}

/** Spheroid with half-axis `polar` along z, blown up a little so that the facets hold the true volume. */
export function spheroid(
  equatorial: number,
  polar: number,
  around: number,
  centre: Point = [0, 0, 0],
): Float64Array {
  const rows = Math.max(4, around / 2);
  const profile = Array.from({ length: rows + 1 }, (_, i): [number, number] => {
    const t = (Math.PI * i) / rows;
    return [i === 0 || i === rows ? 0 : equatorial * Math.sin(t), polar * Math.cos(t)];
  });
  const facets = revolved(profile, around);
  const grow = Math.cbrt(((4 / 3) * Math.PI * equatorial ** 2 * polar) / volumeOf(facets));
  return facets.map((x, i) => grow * x + centre[i % 3]);
}

export function volumeOf(p: Float64Array): number {
  let sum = 0;
  for (let o = 0; o < p.length; o += 9) {
    sum +=
      p[o] * (p[o + 4] * p[o + 8] - p[o + 5] * p[o + 7]) +
      p[o + 1] * (p[o + 5] * p[o + 6] - p[o + 3] * p[o + 8]) +
      p[o + 2] * (p[o + 3] * p[o + 7] - p[o + 4] * p[o + 6]);
  }
  return sum / 6;
}

export const sphere = (radiusM: number, around: number, centre?: Point) =>
  spheroid(radiusM, radiusM, around, centre);

/** Cylinder along z, its radius such that the many-sided section has the circle's area. */
export function cylinder(
  radiusM: number,
  lowM: number,
  highM: number,
  around: number,
  centre?: Point,
): Float64Array {
  const step = (2 * Math.PI) / around;
  const r = radiusM * Math.sqrt(step / Math.sin(step));
  return revolved(
    [
      [0, highM],
      [r, highM],
      [r, lowM],
      [0, lowM],
    ],
    around,
    centre,
  );
}

export function box(low: Point, high: Point): Float64Array {
  const p = (x: number, y: number, z: number): Point => [
    x ? high[0] : low[0],
    y ? high[1] : low[1],
    z ? high[2] : low[2],
  ];
  const quads: readonly (readonly [Point, Point, Point, Point])[] = [
    [p(0, 0, 0), p(0, 0, 1), p(0, 1, 1), p(0, 1, 0)],
    [p(1, 0, 0), p(1, 1, 0), p(1, 1, 1), p(1, 0, 1)],
    [p(0, 0, 0), p(1, 0, 0), p(1, 0, 1), p(0, 0, 1)],
    [p(0, 1, 0), p(0, 1, 1), p(1, 1, 1), p(1, 1, 0)],
    [p(0, 0, 0), p(0, 1, 0), p(1, 1, 0), p(1, 0, 0)],
    [p(0, 0, 1), p(1, 0, 1), p(1, 1, 1), p(0, 1, 1)],
  ];
  return Float64Array.from(quads.flatMap(([a, b, c, d]) => [...a, ...b, ...c, ...a, ...c, ...d]));
}

/** Turned by an angle about an axis (unit vector) through the origin. */
export function turned(positions: Float64Array, axis: Point, angleRad: number): Float64Array {
  const out = new Float64Array(positions.length);
  const [kx, ky, kz] = axis;
  const c = Math.cos(angleRad);
  const s = Math.sin(angleRad);
  for (let i = 0; i < positions.length; i += 3) {
    const x = positions[i];
    const y = positions[i + 1];
    const z = positions[i + 2];
    const along = (kx * x + ky * y + kz * z) * (1 - c);
    out[i] = x * c + (ky * z - kz * y) * s + kx * along;
    out[i + 1] = y * c + (kz * x - kx * z) * s + ky * along;
    out[i + 2] = z * c + (kx * y - ky * x) * s + kz * along;
  }
  return out;
}

export function even(lowM: number, highM: number, cells: number): Float64Array {
  return Float64Array.from({ length: cells + 1 }, (_, i) => lowM + ((highM - lowM) * i) / cells);
}
