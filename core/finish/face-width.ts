import type { PartGeometry } from '../mesh/part-geometry.ts';

/**
 * Shorter side of a flat face, model units: the least distance between two parallel lines that hold it, which one of
 * its convex outline's edges always touches (rotating calipers). 0 for a face without extent.
 */
export function faceWidth(
  { faces, positions }: Pick<PartGeometry, 'faces' | 'positions'>,
  row: number,
): number {
  const n = faces.axis.subarray(3 * row, 3 * row + 3);
  const lead = Math.abs(n[0]!) < 0.6 ? [1, 0, 0] : [0, 1, 0];
  const u = unit(cross(n, lead));
  const v = cross(n, u);
  const points: [number, number][] = [];
  for (let triangle = 0; triangle < faces.faceOfTriangle.length; triangle++) {
    if (faces.faceOfTriangle[triangle] !== row) continue;
    for (let corner = 9 * triangle; corner < 9 * triangle + 9; corner += 3) {
      const at = [positions[corner]!, positions[corner + 1]!, positions[corner + 2]!];
      points.push([dot(at, u), dot(at, v)]);
    }
  }
  const hull = convexOutline(points);
  let least = Infinity;
  for (let i = 0; i < hull.length; i++) {
    const [ax, ay] = hull[i]!;
    const [bx, by] = hull[(i + 1) % hull.length]!;
    const length = Math.hypot(bx - ax, by - ay);
    if (length === 0) continue;
    let widest = 0;
    for (const [px, py] of hull)
      widest = Math.max(widest, Math.abs((bx - ax) * (py - ay) - (by - ay) * (px - ax)) / length);
    least = Math.min(least, widest);
  }
  return Number.isFinite(least) ? least : 0;
}

/** Counter-clockwise convex outline (Andrew's monotone chain). */
function convexOutline(points: [number, number][]): [number, number][] {
  points.sort((a, b) => a[0] - b[0] || a[1] - b[1]);
  const half = (ordered: readonly [number, number][]): [number, number][] => {
    const chain: [number, number][] = [];
    for (const p of ordered) {
      while (chain.length > 1) {
        const [a, b] = [chain.at(-2)!, chain.at(-1)!];
        if ((b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0]) > 0) break;
        chain.pop();
      }
      chain.push(p);
    }
    chain.pop();
    return chain;
  };
  return [...half(points), ...half([...points].reverse())];
}

type Three = ArrayLike<number>;
const dot = (a: Three, b: Three): number => a[0]! * b[0]! + a[1]! * b[1]! + a[2]! * b[2]!;
const cross = (a: Three, b: Three): number[] => [
  a[1]! * b[2]! - a[2]! * b[1]!,
  a[2]! * b[0]! - a[0]! * b[2]!,
  a[0]! * b[1]! - a[1]! * b[0]!,
];
function unit(a: number[]): number[] {
  const length = Math.hypot(a[0]!, a[1]!, a[2]!);
  return a.map((x) => x / length);
}
