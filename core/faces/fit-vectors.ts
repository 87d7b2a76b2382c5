/**
 * Vectors over flat arrays of points, for the fits in this folder: `at` counts numbers (3 a point), `i` triangles or normals.
 */
export type Vec3 = readonly [number, number, number];

export function along(corners: Float64Array, i: number, point: Vec3, axis: Vec3): number {
  return (
    (corners[i] - point[0]) * axis[0] +
    (corners[i + 1] - point[1]) * axis[1] +
    (corners[i + 2] - point[2]) * axis[2]
  );
}

export function distanceFromAxis(corners: Float64Array, i: number, point: Vec3, axis: Vec3): number {
  const x = corners[i] - point[0];
  const y = corners[i + 1] - point[1];
  const z = corners[i + 2] - point[2];
  const d = x * axis[0] + y * axis[1] + z * axis[2];
  return length3(x - d * axis[0], y - d * axis[1], z - d * axis[2]);
}

/** Two unit vectors across `direction`, and `direction` itself at unit length. */
export function frame(direction: ArrayLike<number>): readonly [Vec3, Vec3, Vec3] {
  const w = unit(direction);
  const least = Math.abs(w[0]) < 0.6 ? [1, 0, 0] : [0, 1, 0];
  const u = unit([
    least[1] * w[2] - least[2] * w[1],
    least[2] * w[0] - least[0] * w[2],
    least[0] * w[1] - least[1] * w[0],
  ]);
  return [u, [w[1] * u[2] - w[2] * u[1], w[2] * u[0] - w[0] * u[2], w[0] * u[1] - w[1] * u[0]], w];
}

export function unit(v: ArrayLike<number>): Vec3 {
  const length = length3(v[0], v[1], v[2]) || 1;
  return [v[0] / length, v[1] / length, v[2] / length];
}

export function dot(a: ArrayLike<number>, b: ArrayLike<number>): number {
  return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}

export function dot3(values: Float64Array, i: number, v: ArrayLike<number>): number {
  return values[3 * i] * v[0] + values[3 * i + 1] * v[1] + values[3 * i + 2] * v[2];
}

export function dotAt(values: Float64Array, at: number, v: ArrayLike<number>): number {
  return values[at] * v[0] + values[at + 1] * v[1] + values[at + 2] * v[2];
}

export function sum(values: Float64Array): number {
  let total = 0;
  for (let i = 0; i < values.length; i++) total += values[i];
  return total;
}

/** Math.hypot guards against overflow that cannot come here, and takes ten times as long. */
export function length3(x: number, y: number, z: number): number {
  return Math.sqrt(x * x + y * y + z * z);
}

/**
 * Math.hypot of two and of three finite numbers to the last digit, as V8 works it out (scaled by the largest, with Kahan's sum), but without
 * the array that V8 makes for them.
 */
export function hypot2(x: number, y: number): number {
  const a = Math.abs(x);
  const b = Math.abs(y);
  if (a === 0 && b === 0) return 0;
  const most = a > b ? a : b;
  const p = a / most;
  const q = b / most;
  return Math.sqrt(p * p + q * q) * most;
}

export function hypot3(x: number, y: number, z: number): number {
  const a = Math.abs(x);
  const b = Math.abs(y);
  const c = Math.abs(z);
  if (a === 0 && b === 0 && c === 0) return 0;
  const ab = a > b ? a : b;
  const most = ab > c ? ab : c;
  const p = a / most;
  const q = b / most;
  const r = c / most;
  const one = p * p;
  const two = q * q;
  const both = one + two;
  return Math.sqrt(both + (r * r - (both - one - two))) * most;
}
