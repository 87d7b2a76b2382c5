import type { FieldBody } from './bath-bodies.ts';
import { outsideSpots } from './contact-spots.ts';
import { cutTriangles } from './surface-pieces.ts';

/** Conducting surface in pieces; patch −1 where no liquid reaches it. */
export interface CutPieces {
  readonly count: number;
  /** Index into the bath's bodies. */
  readonly body: Int32Array;
  /** Triangle number within its body. */
  readonly triangle: Int32Array;
  readonly patch: Int32Array;
  readonly areaM2: Float64Array;
  readonly centroidM: Float64Array;
  /** Unit normal into the liquid. */
  readonly normal: Float32Array;
}

/**
 * The anodes' and cathodes' surface inside the grid, masks and contact spots left out, cut along the grid.
 * @param triangles all bodies', 9 numbers a triangle, seen counter-clockwise from the liquid
 * @param first number of each body's first triangle
 */
export function conductingPieces(
  bodies: readonly FieldBody[],
  triangles: Float64Array,
  first: readonly number[],
  lines: readonly [Float64Array, Float64Array, Float64Array],
): CutPieces {
  const chosen: number[] = [];
  const owner: number[] = [];
  const bodyOf = new Int32Array(triangles.length / 9);
  bodies.forEach((body, b) => {
    const count = body.positionsM.length / 9;
    bodyOf.fill(b, first[b], first[b] + count);
    if (body.role === 'insulator') return;
    for (let t = 0; t < count; t++) {
      if (body.insulated?.[t] === 1) continue;
      const at = (first[b] + t) * 9;
      if (!body.spots?.length) {
        for (let n = 0; n < 9; n++) chosen.push(triangles[at + n]);
        owner.push(first[b] + t);
        continue;
      }
      const normal = unitNormal(triangles, at);
      const facing = body.spots.filter(
        ({ facing: f }) => !f || f[0] * normal[0] + f[1] * normal[1] + f[2] * normal[2] > 0.3,
      );
      const left = outsideSpots(Array.from(triangles.subarray(at, at + 9)), facing);
      for (const x of left) chosen.push(x);
      for (let n = 0; n < left.length; n += 9) owner.push(first[b] + t);
    }
  });
  const cut = cutTriangles(Float64Array.from(chosen), lines);
  const { count } = cut;
  const pieces = {
    count,
    body: new Int32Array(count),
    triangle: new Int32Array(count),
    patch: new Int32Array(count).fill(-1),
    areaM2: cut.areaM2,
    centroidM: cut.centroidM,
    normal: new Float32Array(count * 3),
  };
  for (let p = 0; p < count; p++) {
    const t = owner[cut.triangle[p]];
    const body = bodyOf[t];
    pieces.body[p] = body;
    pieces.triangle[p] = t - first[body];
    pieces.normal.set(unitNormal(triangles, t * 9), p * 3);
  }
  return pieces;
}

function unitNormal(triangles: Float64Array, o: number): [number, number, number] {
  const ax = triangles[o + 3] - triangles[o];
  const ay = triangles[o + 4] - triangles[o + 1];
  const az = triangles[o + 5] - triangles[o + 2];
  const bx = triangles[o + 6] - triangles[o];
  const by = triangles[o + 7] - triangles[o + 1];
  const bz = triangles[o + 8] - triangles[o + 2];
  const x = ay * bz - az * by;
  const y = az * bx - ax * bz;
  const z = ax * by - ay * bx;
  const length = Math.hypot(x, y, z);
  return length > 0 ? [x / length, y / length, z / length] : [0, 0, 0];
}
