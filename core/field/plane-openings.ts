import { cellAt } from './graded-axis.ts';

/**
 * How much of each grid face is liquid, exact from the triangles. A grid plane cuts the closed surfaces in closed
 * outlines; each outline segment adds, with its sign, the area between itself and the far end of its rows (the way exact
 * coverage is worked out when outlines are filled on a screen). No rays, no sampling, nothing to tune.
 * A corner lying on a plane counts as above it, so outlines always close; a surface that is not closed shows as a row
 * whose signed heights do not sum to zero, and is reported as `leak`.
 */
export interface PlaneOpenings {
  /** Called once for each interior plane p = 1 … n−1, with the liquid's share (0-1) of each face, u fastest. */
  readonly onPlane: (plane: number, openShare: Float64Array) => void;
}

/** Shares nearer to 0 or 1 than this are taken as closed or open: rounding, and slivers that carry nothing. */
const SNAP = 1e-6;

/**
 * @param triangles 9 numbers a triangle, m, counter-clockwise seen from the liquid
 * @param axis 0, 1 or 2: planes stand square to it; (u, v) are the next two axes in cyclic order
 * @param baseSolid winding to start from: the number of vessels whose inside is the bath
 * @returns the largest unclosed height met, as a share of its row
 */
export function openingsOfPlanes(
  triangles: Float64Array,
  axis: number,
  lines: readonly [Float64Array, Float64Array, Float64Array],
  baseSolid: number,
  { onPlane }: PlaneOpenings,
): number {
  const linesA = lines[axis];
  const u = (axis + 1) % 3;
  const v = (axis + 2) % 3;
  const linesU = lines[u];
  const linesV = lines[v];
  const nu = linesU.length - 1;
  const nv = linesV.length - 1;
  const planes = linesA.length;
  const { start, list } = trianglesByPlane(triangles, axis, linesA);
  const cover = new Float64Array(nu * nv);
  const carry = new Float64Array((nu + 1) * nv);
  const share = new Float64Array(nu * nv);
  let leak = 0;
  const point = new Float64Array(4);
  for (let p = 1; p < planes - 1; p++) {
    cover.fill(0);
    carry.fill(0);
    const at = linesA[p];
    for (let s = start[p]; s < start[p + 1]; s++) {
      if (!crossing(point, triangles, list[s] * 9, axis, u, v, at)) continue;
      addSegment(cover, carry, linesU, linesV, nu, nv, point[0], point[1], point[2], point[3]);
    }
    for (let row = 0; row < nv; row++) {
      const height = linesV[row + 1] - linesV[row];
      let run = 0;
      for (let column = 0; column < nu; column++) {
        run += carry[row * (nu + 1) + column];
        const width = linesU[column + 1] - linesU[column];
        const solid = baseSolid + (cover[row * nu + column] + run * width) / (width * height);
        const open = 1 - solid;
        share[row * nu + column] = open < SNAP ? 0 : open > 1 - SNAP ? 1 : open;
      }
      run += carry[row * (nu + 1) + nu];
      leak = Math.max(leak, Math.abs(run) / height);
    }
    onPlane(p, share);
  }
  return leak;
}

/** For each plane, the triangles with corners on both sides of it (a corner on it counts as above). */
function trianglesByPlane(triangles: Float64Array, axis: number, lines: Float64Array) {
  const count = triangles.length / 9;
  const planes = lines.length;
  const first = new Int32Array(count);
  const last = new Int32Array(count);
  const start = new Int32Array(planes + 1);
  for (let t = 0; t < count; t++) {
    const a = triangles[t * 9 + axis];
    const b = triangles[t * 9 + 3 + axis];
    const c = triangles[t * 9 + 6 + axis];
    // Planes with min < plane ≤ max.
    first[t] = Math.max(0, cellAt(lines, Math.min(a, b, c)) + 1);
    last[t] = Math.min(planes - 1, cellAt(lines, Math.max(a, b, c)));
    for (let p = first[t]; p <= last[t]; p++) start[p + 1]++;
  }
  for (let p = 0; p < planes; p++) start[p + 1] += start[p];
  const list = new Int32Array(start[planes]);
  const next = start.slice();
  for (let t = 0; t < count; t++) for (let p = first[t]; p <= last[t]; p++) list[next[p]++] = t;
  return { start, list };
}

/** The cut from the edge that rises through the plane to the edge that sinks through it: u0, v0, u1, v1. */
function crossing(
  out: Float64Array,
  triangles: Float64Array,
  o: number,
  axis: number,
  u: number,
  v: number,
  at: number,
): boolean {
  let found = 0;
  for (let e = 0; e < 3; e++) {
    const from = o + e * 3;
    const to = o + ((e + 1) % 3) * 3;
    const fromAbove = triangles[from + axis] >= at;
    const toAbove = triangles[to + axis] >= at;
    if (fromAbove === toAbove) continue;
    // Always from the lower corner, so that both triangles of an edge find the same point.
    const low = fromAbove ? to : from;
    const high = fromAbove ? from : to;
    const t = (at - triangles[low + axis]) / (triangles[high + axis] - triangles[low + axis]);
    const place = toAbove ? 0 : 2;
    out[place] = triangles[low + u] + t * (triangles[high + u] - triangles[low + u]);
    out[place + 1] = triangles[low + v] + t * (triangles[high + v] - triangles[low + v]);
    found++;
  }
  return found === 2;
}

function addSegment(
  cover: Float64Array,
  carry: Float64Array,
  linesU: Float64Array,
  linesV: Float64Array,
  nu: number,
  nv: number,
  u0: number,
  v0: number,
  u1: number,
  v1: number,
): void {
  if (v0 === v1) return;
  const sign = v1 > v0 ? 1 : -1;
  const lowV = sign > 0 ? v0 : v1;
  const highV = sign > 0 ? v1 : v0;
  const lowU = sign > 0 ? u0 : u1;
  const perV = ((sign > 0 ? u1 : u0) - lowU) / (highV - lowV);
  const firstRow = Math.max(0, cellAt(linesV, lowV));
  for (let row = firstRow; row < nv && linesV[row] < highV; row++) {
    const va = Math.max(lowV, linesV[row]);
    const vb = Math.min(highV, linesV[row + 1]);
    if (!(vb > va)) continue;
    const height = sign * (vb - va);
    const ua = lowU + perV * (va - lowV);
    const ub = lowU + perV * (vb - lowV);
    let left = ua < ub ? ua : ub;
    const right = ua < ub ? ub : ua;
    const span = right - left;
    const carryRow = row * (nu + 1);
    let column = cellAt(linesU, left);
    if (span === 0) {
      if (column < 0) carry[carryRow] += height;
      else {
        if (column < nu) cover[row * nu + column] += height * (linesU[column + 1] - left);
        carry[carryRow + Math.min(column + 1, nu)] += height;
      }
      continue;
    }
    let remaining = height;
    while (left < right) {
      if (column >= nu) {
        carry[carryRow + nu] += remaining;
        break;
      }
      const end = Math.min(right, linesU[column + 1]);
      const part = end >= right ? remaining : (height * (end - left)) / span;
      if (column < 0) {
        carry[carryRow] += part;
      } else {
        cover[row * nu + column] += part * (linesU[column + 1] - (left + end) / 2);
        carry[carryRow + column + 1] += part;
      }
      remaining -= part;
      left = end;
      column++;
    }
  }
}
