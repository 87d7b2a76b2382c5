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

/** All surface in the grid, current-carrying or not, in pieces. */
export interface SurfaceCut {
  readonly count: number;
  /** From 0, without the empty plane of CellSystem. */
  readonly cell: Int32Array;
  readonly areaM2: Float64Array;
  readonly centroidM: Float64Array;
  /** Unit normal into the liquid. */
  readonly normal: Float32Array;
  /** Whole triangle each piece is of: a row of `triangles`, 9 numbers each. */
  readonly triangle: Int32Array;
  readonly triangles: Float64Array;
}

/**
 * The bodies' surface inside the grid, cut along it; and of it the anodes' and cathodes', masks and contact spots left out.
 * @param triangles all bodies', 9 numbers a triangle, seen counter-clockwise from the liquid
 * @param first number of each body's first triangle
 */
export function cutSurface(
  bodies: readonly FieldBody[],
  triangles: Float64Array,
  first: readonly number[],
  lines: readonly [Float64Array, Float64Array, Float64Array],
): { surface: SurfaceCut; pieces: CutPieces } {
  const bodyOf = new Int32Array(triangles.length / 9);
  bodies.forEach((body, b) => bodyOf.fill(b, first[b], first[b] + body.positionsM.length / 9));
  const { cutting, owner } = spotsOut(bodies, triangles, first);
  const cut = cutTriangles(cutting, lines);
  const normal = new Float32Array(cut.count * 3);
  const kept: number[] = [];
  for (let p = 0; p < cut.count; p++) {
    const t = owner ? owner[cut.triangle[p]] : cut.triangle[p];
    normal.set(unitNormal(triangles, t * 9), p * 3);
    const body = bodies[bodyOf[t]];
    if (body.role !== 'insulator' && body.insulated?.[t - first[bodyOf[t]]] !== 1) kept.push(p);
  }
  const count = kept.length;
  const pieces = {
    count,
    body: new Int32Array(count),
    triangle: new Int32Array(count),
    patch: new Int32Array(count).fill(-1),
    areaM2: new Float64Array(count),
    centroidM: new Float64Array(count * 3),
    normal: new Float32Array(count * 3),
  };
  for (let n = 0; n < count; n++) {
    const p = kept[n];
    const t = owner ? owner[cut.triangle[p]] : cut.triangle[p];
    pieces.body[n] = bodyOf[t];
    pieces.triangle[n] = t - first[bodyOf[t]];
    pieces.areaM2[n] = cut.areaM2[p];
    for (let m = 0; m < 3; m++) {
      pieces.centroidM[n * 3 + m] = cut.centroidM[p * 3 + m];
      pieces.normal[n * 3 + m] = normal[p * 3 + m];
    }
  }
  const { cell, areaM2, centroidM } = cut;
  const triangle = owner ? cut.triangle.map((t) => owner[t]) : cut.triangle;
  return { surface: { count: cut.count, cell, areaM2, centroidM, normal, triangle, triangles }, pieces };
}

/** The triangles less the contact spots; `owner` says which triangle each is of, absent where nothing was taken out. */
function spotsOut(
  bodies: readonly FieldBody[],
  triangles: Float64Array,
  first: readonly number[],
): { cutting: Float64Array; owner?: Int32Array } {
  if (!bodies.some((body) => body.spots?.length)) return { cutting: triangles };
  const chosen: number[] = [];
  const owner: number[] = [];
  bodies.forEach((body, b) => {
    for (let t = first[b]; t < first[b] + body.positionsM.length / 9; t++) {
      const normal = unitNormal(triangles, t * 9);
      const facing = (body.spots ?? []).filter(
        ({ facing: f }) => !f || f[0] * normal[0] + f[1] * normal[1] + f[2] * normal[2] > 0.3,
      );
      const left = outsideSpots(Array.from(triangles.subarray(t * 9, t * 9 + 9)), facing);
      for (const x of left) chosen.push(x);
      for (let n = 0; n < left.length; n += 9) owner.push(t);
    }
  });
  return { cutting: Float64Array.from(chosen), owner: Int32Array.from(owner) };
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
