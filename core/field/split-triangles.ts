/** Triangles fine enough to show a map on. */
export interface SplitTriangles {
  /** 9 numbers a triangle. */
  readonly positions: Float64Array;
  /** For each triangle, the one it was cut from; ascending. */
  readonly source: Uint32Array;
}

/**
 * Halves sides until none is longer than `longest` (same unit as the positions) or one more round would make more than
 * `mostTriangles`. Whether a side is halved depends on the side alone, so neighbours agree: a closed surface stays closed,
 * without a corner in the middle of another's side. Shape and area stay what they were; the longest sides go first.
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
  let now: SplitTriangles = {
    positions: Float64Array.from(positions),
    source: Uint32Array.from({ length: count }, (_, t) => t),
  };
  let limit = Math.max(longest, Math.sqrt(longestSquared(now.positions)));
  for (;;) {
    if (Math.sqrt(longestSquared(now.positions)) <= limit) {
      if (limit <= longest) return now;
      limit = Math.max(longest, limit / 2);
      continue;
    }
    const next = splitOnce(now, limit * limit, mostTriangles);
    if (!next) return now;
    now = next;
  }
}

function longestSquared(p: Float64Array): number {
  let longest = 0;
  for (let o = 0; o < p.length; o += 9) {
    for (let e = 0; e < 3; e++) longest = Math.max(longest, sideSquared(p, o, e));
  }
  return longest;
}

function sideSquared(p: Float64Array, o: number, e: number): number {
  const a = o + 3 * e;
  const b = o + 3 * ((e + 1) % 3);
  return (p[b]! - p[a]!) ** 2 + (p[b + 1]! - p[a + 1]!) ** 2 + (p[b + 2]! - p[a + 2]!) ** 2;
}

/** Every side above the limit once; undefined where that would make too many. */
function splitOnce(
  { positions: p, source }: SplitTriangles,
  limitSquared: number,
  mostTriangles: number,
): SplitTriangles | undefined {
  const count = source.length;
  const marks = new Uint8Array(count);
  let total = count;
  for (let t = 0; t < count; t++) {
    for (let e = 0; e < 3; e++) {
      if (sideSquared(p, 9 * t, e) <= limitSquared) continue;
      marks[t]! |= 1 << e;
      total++;
    }
  }
  if (total > mostTriangles) return undefined;
  const out = new Float64Array(9 * total);
  const owner = new Uint32Array(total);
  let at = 0;
  /** Corners 0-2, and 3-5 the middles of the sides from 0, 1 and 2. */
  const corner = new Float64Array(18);
  const put = (t: number, a: number, b: number, c: number): void => {
    for (let n = 0; n < 3; n++) {
      out[9 * at + n] = corner[3 * a + n]!;
      out[9 * at + 3 + n] = corner[3 * b + n]!;
      out[9 * at + 6 + n] = corner[3 * c + n]!;
    }
    owner[at++] = source[t]!;
  };
  for (let t = 0; t < count; t++) {
    for (let e = 0; e < 3; e++) {
      const f = (e + 1) % 3;
      for (let n = 0; n < 3; n++) {
        corner[3 * e + n] = p[9 * t + 3 * e + n]!;
        corner[9 + 3 * e + n] = (p[9 * t + 3 * e + n]! + p[9 * t + 3 * f + n]!) / 2;
      }
    }
    const mark = marks[t]!;
    if (mark === 0) put(t, 0, 1, 2);
    else if (mark === 7) {
      put(t, 0, 3, 5);
      put(t, 3, 1, 4);
      put(t, 5, 4, 2);
      put(t, 3, 4, 5);
    } else if (mark === 1 || mark === 2 || mark === 4) {
      const e = mark >> 1;
      put(t, e, 3 + e, (e + 2) % 3);
      put(t, 3 + e, (e + 1) % 3, (e + 2) % 3);
    } else {
      // Two sides that meet at corner k: its tip, and the rest cut along the shorter diagonal.
      const k = mark === 3 ? 1 : mark === 6 ? 2 : 0;
      const before = (k + 2) % 3;
      const after = (k + 1) % 3;
      const [in_, out_] = [3 + before, 3 + k];
      put(t, k, out_, in_);
      if (apart(corner, before, out_) < apart(corner, after, in_)) {
        put(t, in_, out_, before);
        put(t, out_, after, before);
      } else {
        put(t, in_, out_, after);
        put(t, in_, after, before);
      }
    }
  }
  return { positions: out, source: owner };
}

function apart(corner: Float64Array, a: number, b: number): number {
  return (
    (corner[3 * a]! - corner[3 * b]!) ** 2 +
    (corner[3 * a + 1]! - corner[3 * b + 1]!) ** 2 +
    (corner[3 * a + 2]! - corner[3 * b + 2]!) ** 2
  );
}
