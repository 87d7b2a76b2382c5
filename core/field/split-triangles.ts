/** Triangles fine enough to show a map on. */
export interface SplitTriangles {
  /** 9 numbers a triangle. */
  readonly positions: Float64Array;
  /** For each triangle, the one it was cut from. */
  readonly source: Uint32Array;
}

/**
 * Halves triangles across their longest side until no side is longer than `longest` (same unit as the positions) or
 * there are `mostTriangles`. Shape and area stay what they were; neighbours may meet at a point in the middle of a side, so the
 * result is for colouring and for cutting with a grid, where only the area counts. The longest go first.
 */
export function splitTriangles(
  positions: ArrayLike<number>,
  longest: number,
  mostTriangles: number,
): SplitTriangles {
  if (!(longest > 0)) throw new RangeError(`splitTriangles: longest is ${longest}`);
  const count = positions.length / 9;
  if (!Number.isInteger(count)) {
    throw new RangeError(`splitTriangles: positions has ${positions.length} numbers, not nine a triangle`);
  }
  let out: number[] = Array.from(positions);
  let source: number[] = Array.from({ length: count }, (_, t) => t);
  // From coarse to fine, so that a limited number of triangles is spent where they are largest.
  let limit = longest;
  for (let t = 0; t < count; t++) limit = Math.max(limit, Math.sqrt(longestSide(out, t * 9).squared));
  while (limit > longest && source.length < mostTriangles) {
    limit = Math.max(longest, limit / 2);
    [out, source] = splitOnce(out, source, limit * limit, mostTriangles);
  }
  return { positions: Float64Array.from(out), source: Uint32Array.from(source) };
}

function splitOnce(
  from: readonly number[],
  owner: readonly number[],
  limitSquared: number,
  mostTriangles: number,
): [number[], number[]] {
  const out: number[] = [];
  const source: number[] = [];
  const stack: number[][] = [];
  for (let t = 0; t < owner.length; t++) {
    stack.push(from.slice(t * 9, t * 9 + 9));
    while (stack.length > 0) {
      const p = stack.pop()!;
      const { side, squared } = longestSide(p, 0);
      const waiting = owner.length - t - 1 + stack.length;
      if (squared <= limitSquared || source.length + waiting + 2 > mostTriangles) {
        for (const x of p) out.push(x);
        source.push(owner[t]);
        continue;
      }
      const a = p.slice(side * 3, side * 3 + 3);
      const b = p.slice(((side + 1) % 3) * 3, ((side + 1) % 3) * 3 + 3);
      const c = p.slice(((side + 2) % 3) * 3, ((side + 2) % 3) * 3 + 3);
      const middle = a.map((x, n) => (x + b[n]) / 2);
      stack.push([...middle, ...b, ...c], [...a, ...middle, ...c]);
    }
  }
  return [out, source];
}

function longestSide(p: readonly number[], o: number): { side: number; squared: number } {
  let side = 0;
  let squared = -1;
  for (let e = 0; e < 3; e++) {
    const f = (e + 1) % 3;
    const d =
      (p[o + f * 3] - p[o + e * 3]) ** 2 +
      (p[o + f * 3 + 1] - p[o + e * 3 + 1]) ** 2 +
      (p[o + f * 3 + 2] - p[o + e * 3 + 2]) ** 2;
    if (d > squared) {
      squared = d;
      side = e;
    }
  }
  return { side, squared };
}
