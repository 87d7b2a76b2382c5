import { boundsOf } from './bounds.ts';
import type { Finding, PartGeometry } from './part-geometry.ts';
import { frontOfBack } from './source-triangles.ts';

/** Share of a part's largest size that sheet is hardly ever thicker than. Common practice. */
const THICKEST = 0.1;

/**
 * Said of a sheet that was given more thickness than sheet of its size has, be it a slip in a number or in the unit.
 *
 * @param thickness given to it, in the unit of `drawn`
 * @param drawn the surface as it was without it
 */
export function thickForSizeFinding(thickness: number, drawn: Float32Array): Finding | undefined {
  const { min, max } = boundsOf(drawn);
  const largest = Math.max(...max.map((high, axis) => high - min[axis]));
  if (!(thickness > THICKEST * largest)) return undefined;
  return {
    code: 'sheet-too-thick',
    level: 'check',
    message: `The thickness given to the sheet is ${Number(((100 * thickness) / largest).toPrecision(2))} % of the largest size of what was drawn, more than sheet usually has.`,
    remedy: 'Check the thickness and the unit of the file; go on if both are right.',
    triangles: new Uint32Array(),
  };
}

/**
 * Said of a sheet that was given more thickness than its bends leave room for: on the inside of a bend tighter than half of it triangles
 * turn over and face as those behind them do, instead of away from them.
 *
 * @param fileTriangles how many triangles the file has
 */
export function tooThickFinding(
  {
    positions,
    sourceTriangle,
    triangleAreas,
  }: Pick<PartGeometry, 'positions' | 'sourceTriangle' | 'triangleAreas'>,
  fileTriangles: number,
): Finding | undefined {
  if (!sourceTriangle) return undefined;
  const sides = new Map<number, { readonly front: number[]; readonly back: number[] }>();
  sourceTriangle.forEach((source, t) => {
    const front = frontOfBack(fileTriangles, source);
    const of = front ?? source;
    const known = sides.get(of) ?? { front: [], back: [] };
    sides.set(of, known);
    known[front === undefined ? 'front' : 'back'].push(t);
  });
  const over = [...sides.values()].flatMap(({ front, back }) => {
    const [a, b] = [facing(positions, front), facing(positions, back)];
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2] > 0 ? [...front, ...back] : [];
  });
  if (over.length === 0) return undefined;
  const all = triangleAreas.reduce((sum, area) => sum + area, 0);
  const area = over.reduce((sum, t) => sum + triangleAreas[t], 0);
  const share = Number(((100 * area) / all).toPrecision(2));
  return {
    code: 'sheet-too-thick',
    level: 'check',
    message: `The sheet is thicker than its tightest bends leave room for: ${share} % of the area lies where one side of it turns over, and is not right.`,
    remedy:
      'Check the thickness and the unit of the file. Where both are right, draw the part with its thickness, or go on if the share is too small to matter.',
    triangles: Uint32Array.from(over).sort(),
  };
}

/** Sum of the triangles' normals, each as long as twice its area. */
function facing(positions: Float32Array, triangles: readonly number[]): readonly [number, number, number] {
  let [x, y, z] = [0, 0, 0];
  for (const t of triangles) {
    const [ax, ay, az, bx, by, bz, cx, cy, cz] = positions.subarray(9 * t, 9 * t + 9);
    x += (by - ay) * (cz - az) - (bz - az) * (cy - ay);
    y += (bz - az) * (cx - ax) - (bx - ax) * (cz - az);
    z += (bx - ax) * (cy - ay) - (by - ay) * (cx - ax);
  }
  return [x, y, z];
}
