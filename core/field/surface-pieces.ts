import { cellAt } from './graded-axis.ts';

/** Triangles cut along the grid: one row a piece, each inside one cell. Lengths in m. */
export interface SurfacePieces {
  readonly count: number;
  readonly triangle: Int32Array;
  /** i + nx·(j + ny·k). */
  readonly cell: Int32Array;
  readonly areaM2: Float64Array;
  /** Centroid, three numbers a piece. */
  readonly centroidM: Float64Array;
}

const MOST_CORNERS = 12;

/**
 * Cuts each triangle with the grid planes. The pieces' areas sum to the triangle's own area inside the grid; what lies
 * outside the grid is left out. A piece in a grid plane goes to the cell above it.
 */
export function cutTriangles(
  triangles: Float64Array,
  lines: readonly [Float64Array, Float64Array, Float64Array],
): SurfacePieces {
  const count = triangles.length / 9;
  const nx = lines[0].length - 1;
  const ny = lines[1].length - 1;
  const nz = lines[2].length - 1;
  let capacity = Math.max(1024, count * 2);
  let triangle = new Int32Array(capacity);
  let cell = new Int32Array(capacity);
  let areaM2 = new Float64Array(capacity);
  let centroidM = new Float64Array(capacity * 3);
  let pieces = 0;
  const whole = new Float64Array(MOST_CORNERS * 3);
  const slabX = new Float64Array(MOST_CORNERS * 3);
  const restX = new Float64Array(MOST_CORNERS * 3);
  const slabY = new Float64Array(MOST_CORNERS * 3);
  const restY = new Float64Array(MOST_CORNERS * 3);
  const slabZ = new Float64Array(MOST_CORNERS * 3);
  const restZ = new Float64Array(MOST_CORNERS * 3);
  const spare = new Float64Array(MOST_CORNERS * 3);
  const measured = new Float64Array(4);

  const keep = (
    t: number,
    i: number,
    j: number,
    k: number,
    polygon: Float64Array,
    corners: number,
    least: number,
  ) => {
    measure(measured, polygon, corners);
    if (!(measured[0] > least)) return;
    if (pieces === capacity) {
      capacity *= 2;
      triangle = grown(triangle, new Int32Array(capacity));
      cell = grown(cell, new Int32Array(capacity));
      areaM2 = grown(areaM2, new Float64Array(capacity));
      centroidM = grown(centroidM, new Float64Array(capacity * 3));
    }
    triangle[pieces] = t;
    cell[pieces] = i + nx * (j + ny * k);
    areaM2[pieces] = measured[0];
    centroidM[pieces * 3] = measured[1];
    centroidM[pieces * 3 + 1] = measured[2];
    centroidM[pieces * 3 + 2] = measured[3];
    pieces++;
  };

  for (let t = 0; t < count; t++) {
    for (let n = 0; n < 9; n++) whole[n] = triangles[t * 9 + n];
    measure(measured, whole, 3);
    const least = measured[0] * 1e-12;
    if (!(measured[0] > 0)) continue;
    const [i0, j0, k0] = [0, 1, 2].map((n) =>
      cellAt(lines[n], Math.min(whole[n], whole[3 + n], whole[6 + n])),
    );
    if (
      insideCell(whole, 0, lines[0], i0) &&
      insideCell(whole, 1, lines[1], j0) &&
      insideCell(whole, 2, lines[2], k0)
    ) {
      keep(t, i0, j0, k0, whole, 3, least);
      continue;
    }
    eachSlab(whole, 3, 0, lines[0], nx, slabX, restX, spare, (i, inX, cornersX) => {
      eachSlab(inX, cornersX, 1, lines[1], ny, slabY, restY, spare, (j, inY, cornersY) => {
        eachSlab(inY, cornersY, 2, lines[2], nz, slabZ, restZ, spare, (k, inZ, cornersZ) => {
          keep(t, i, j, k, inZ, cornersZ, least);
        });
      });
    });
  }
  return {
    count: pieces,
    triangle: triangle.slice(0, pieces),
    cell: cell.slice(0, pieces),
    areaM2: areaM2.slice(0, pieces),
    centroidM: centroidM.slice(0, pieces * 3),
  };
}

function insideCell(p: Float64Array, axis: number, lines: Float64Array, cell: number): boolean {
  if (cell < 0 || cell >= lines.length - 1) return false;
  const high = lines[cell + 1];
  return p[axis] < high && p[3 + axis] < high && p[6 + axis] < high;
}

function grown<A extends Int32Array | Float64Array>(from: A, to: A): A {
  to.set(from);
  return to;
}

/** Hands each interval of the axis the polygon's part in it. `polygon` is left as it is; slab, rest and spare are scratch. */
function eachSlab(
  polygon: Float64Array,
  corners: number,
  axis: number,
  lines: Float64Array,
  intervals: number,
  slab: Float64Array,
  rest: Float64Array,
  spare: Float64Array,
  visit: (interval: number, part: Float64Array, corners: number) => void,
): void {
  let low = Infinity;
  let high = -Infinity;
  for (let c = 0; c < corners; c++) {
    const x = polygon[c * 3 + axis];
    if (x < low) low = x;
    if (x > high) high = x;
  }
  const first = cellAt(lines, low);
  const last = Math.min(cellAt(lines, high), intervals - 1);
  if (first >= intervals || last < 0) return;
  if (first === last && first >= 0 && high <= lines[last + 1]) {
    visit(first, polygon, corners);
    return;
  }
  rest.set(polygon.subarray(0, corners * 3));
  let restCorners = corners;
  if (first < 0) restCorners = cutOff(rest, restCorners, axis, lines[0], slab, rest, spare).above;
  for (let i = Math.max(0, first); i <= last && restCorners >= 3; i++) {
    if (i === last && high <= lines[i + 1]) {
      visit(i, rest, restCorners);
      return;
    }
    const parts = cutOff(rest, restCorners, axis, lines[i + 1], slab, rest, spare);
    restCorners = parts.above;
    if (parts.below >= 3) visit(i, slab, parts.below);
  }
}

/** Splits a convex polygon at a plane; `upper` may be the polygon itself; `above` is scratch. */
function cutOff(
  polygon: Float64Array,
  corners: number,
  axis: number,
  at: number,
  lower: Float64Array,
  upper: Float64Array,
  above: Float64Array,
): { below: number; above: number } {
  let nBelow = 0;
  let nAbove = 0;
  for (let c = 0; c < corners; c++) {
    const p = c * 3;
    const q = ((c + 1) % corners) * 3;
    const a = polygon[p + axis];
    const b = polygon[q + axis];
    if (a < at) {
      for (let n = 0; n < 3; n++) lower[nBelow * 3 + n] = polygon[p + n];
      nBelow++;
    } else {
      for (let n = 0; n < 3; n++) above[nAbove * 3 + n] = polygon[p + n];
      nAbove++;
    }
    if (a < at !== b < at) {
      const t = (at - a) / (b - a);
      for (let n = 0; n < 3; n++) {
        const x = n === axis ? at : polygon[p + n] + t * (polygon[q + n] - polygon[p + n]);
        lower[nBelow * 3 + n] = x;
        above[nAbove * 3 + n] = x;
      }
      nBelow++;
      nAbove++;
    }
  }
  for (let n = 0; n < nAbove * 3; n++) upper[n] = above[n];
  return { below: nBelow, above: nAbove };
}

/** Area and centroid of a flat convex polygon: area, x, y, z. */
function measure(out: Float64Array, polygon: Float64Array, corners: number): void {
  let area = 0;
  let x = 0;
  let y = 0;
  let z = 0;
  const ox = polygon[0];
  const oy = polygon[1];
  const oz = polygon[2];
  for (let c = 1; c + 1 < corners; c++) {
    const ax = polygon[c * 3] - ox;
    const ay = polygon[c * 3 + 1] - oy;
    const az = polygon[c * 3 + 2] - oz;
    const bx = polygon[c * 3 + 3] - ox;
    const by = polygon[c * 3 + 4] - oy;
    const bz = polygon[c * 3 + 5] - oz;
    const piece = Math.hypot(ay * bz - az * by, az * bx - ax * bz, ax * by - ay * bx) / 2;
    area += piece;
    x += (piece * (ax + bx)) / 3;
    y += (piece * (ay + by)) / 3;
    z += (piece * (az + bz)) / 3;
  }
  out[0] = area;
  out[1] = ox + (area > 0 ? x / area : 0);
  out[2] = oy + (area > 0 ? y / area : 0);
  out[3] = oz + (area > 0 ? z / area : 0);
}
