import { runsOn, type FlatFacets } from './flat-facets.ts';
import { squaredChord, turnAcross, type SurfaceGraph } from './surface-graph.ts';

/**
 * How far the true surface stands above one flat facet: a quadratic h(x, y) in the facet's plane, fitted to what the
 * mesh tells about it. Corners between smooth facets lie on the surface (h = 0); at the middle of a smooth edge the
 * surface rises from the facet by its share of the turn. Other corners are probably on the surface as well, or cut into
 * the facet by a hole: they only decide what the first two leave open.
 */
export interface FacetBulge {
  /** A point of the facet's plane. */
  readonly origin: readonly [number, number, number];
  /** In the plane, unit length. */
  readonly u: readonly [number, number, number];
  readonly v: readonly [number, number, number];
  readonly normal: readonly [number, number, number];
  /** h = c0 + c1 x + c2 y + c3 x²/2 + c4 x y + c5 y²/2, lengths in model units. */
  readonly c: Float64Array;
  /** 1 where the slopes at its edges agree with one another, 0 where they contradict. */
  readonly agreement: number;
  /** Mean square of those slopes. */
  readonly slope2: number;
}

/** Triangles of a facet that are looked at for its extent from an edge. */
const MOST_LOOKED_AT = 200;
/** Weight of the corners between smooth facets against that of a slope. */
const STRONG = 10;
/** … of corners that may be cut into the facet. */
const WEAK = 0.1;
/** … of a smooth edge lying on the surface all along, as it does where the surface is ruled. */
const RULING = 0.02;
/** … of every curvature's pull towards 0. */
const RIDGE = 1e-3;

/** Scratch for fitting many facets one after another. */
export class BulgeFitter {
  private readonly graph: SurfaceGraph;
  private readonly facets: FlatFacets;
  private readonly faceOfTriangle: Uint32Array;
  private readonly mode: Uint8Array;
  /** Triangles of the facets wanted, as a chain. */
  private readonly next: Int32Array;
  private readonly head: Int32Array;
  private readonly matrix = new Float64Array(36);
  private readonly right = new Float64Array(6);
  private readonly row = new Float64Array(6);

  constructor(graph: SurfaceGraph, facets: FlatFacets, faceOfTriangle: Uint32Array, mode: Uint8Array) {
    this.graph = graph;
    this.facets = facets;
    this.faceOfTriangle = faceOfTriangle;
    this.mode = mode;
    const { root } = facets;
    this.head = new Int32Array(root.length).fill(-1);
    this.next = new Int32Array(root.length);
    for (let t = root.length - 1; t >= 0; t--) {
      this.next[t] = this.head[root[t]];
      this.head[root[t]] = t;
    }
  }

  /** Triangles of the facet with this root. */
  trianglesOf(root: number): number[] {
    const list: number[] = [];
    for (let t = this.head[root]; t >= 0; t = this.next[t]) list.push(t);
    return list;
  }

  fit(root: number): FacetBulge {
    const { vertices, triangles } = this.graph.indexed;
    const { twin, triangleAreas, normals } = this.graph;
    const members = this.trianglesOf(root);
    const origin: [number, number, number] = [0, 0, 0];
    const mean = [0, 0, 0];
    let area = 0;
    for (const t of members) {
      const a = triangleAreas[t];
      area += a;
      for (let k = 0; k < 3; k++) {
        mean[k] += a * normals[3 * t + k];
        for (let i = 0; i < 3; i++) origin[k] += (a * vertices[3 * triangles[3 * t + i] + k]) / 3;
      }
    }
    const c = new Float64Array(6);
    const size = Math.hypot(mean[0], mean[1], mean[2]);
    if (!(area > 0) || !(size > 0)) {
      return { origin, u: [1, 0, 0], v: [0, 1, 0], normal: [0, 0, 1], c, agreement: 1, slope2: 0 };
    }
    for (let k = 0; k < 3; k++) {
      origin[k] /= area;
      mean[k] /= size;
    }
    const normal: [number, number, number] = [mean[0], mean[1], mean[2]];
    const smooth: number[] = [];
    const other: number[] = [];
    for (const t of members) {
      for (let h = 3 * t; h < 3 * t + 3; h++) {
        const way = this.sideOf(h, root);
        if (way === 'smooth') smooth.push(h);
        else if (way === 'end') other.push(h);
      }
    }
    if (smooth.length === 0) {
      const [u, v] = frameOf(normal, [1, 0, 0]);
      return { origin, u, v, normal, c, agreement: 1, slope2: 0 };
    }
    // x along the longest smooth edge.
    let longest = smooth[0];
    for (const h of smooth) if (this.edgeLength(h) > this.edgeLength(longest)) longest = h;
    const [u, v] = frameOf(normal, this.edgeVector(longest));
    const at = (vertex: number): [number, number] => {
      const dx = vertices[3 * vertex] - origin[0];
      const dy = vertices[3 * vertex + 1] - origin[1];
      const dz = vertices[3 * vertex + 2] - origin[2];
      return [dx * u[0] + dy * u[1] + dz * u[2], dx * v[0] + dy * v[1] + dz * v[2]];
    };
    // Each direction in its own scale, so that a long thin strip is fitted as well as a square facet.
    let sx = 0;
    let sy = 0;
    for (const t of members) {
      for (let i = 0; i < 3; i++) {
        const [x, y] = at(triangles[3 * t + i]);
        sx = Math.max(sx, Math.abs(x));
        sy = Math.max(sy, Math.abs(y));
      }
    }
    if (!(sx > 0 && sy > 0)) return { origin, u, v, normal, c, agreement: 1, slope2: 0 };
    const s = Math.min(sx, sy);
    const slopes: { x: number; y: number; mx: number; my: number; g: number; weight: number }[] = [];
    for (const h of smooth) {
      const own = this.extent(root, h);
      const across = this.extent(this.facets.root[(twin[h] / 3) | 0], twin[h]);
      const [ax, ay] = at(triangles[h]);
      const [bx, by] = at(triangles[nextSide(h)]);
      const length = Math.hypot(bx - ax, by - ay);
      if (!(own + across > 0) || !(length > 0)) continue;
      slopes.push({
        x: (ax + bx) / 2 / sx,
        y: (ay + by) / 2 / sy,
        mx: (-(by - ay) / length) * (s / sx),
        my: ((bx - ax) / length) * (s / sy),
        g: (turnAcross(this.graph, h) * own) / (own + across),
        weight: Math.sqrt(length / this.edgeLength(longest)),
      });
    }
    if (members.length === 1) {
      fitTriangleInto(
        c,
        [0, 1, 2].map((i) => at(triangles[3 * root + i])),
        this.trianglesSlopes(root, smooth),
      );
      return { origin, u, v, normal, c, agreement: 1, slope2: 0 };
    }
    this.matrix.fill(0);
    this.right.fill(0);
    for (const { x, y, mx, my, g, weight } of slopes) {
      this.row.set([0, mx, my, mx * x, mx * y + my * x, my * y]);
      this.add(weight, g);
    }
    const touch = (x: number, y: number, weight: number): void => {
      this.row.set([1, x, y, (x * x) / 2, x * y, (y * y) / 2]);
      this.add(weight, 0);
    };
    const corner = (vertex: number, weight: number): void => {
      const [x, y] = at(vertex);
      touch(x / sx, y / sy, weight);
    };
    for (const { x, y } of slopes) touch(x, y, RULING);
    for (const h of smooth) {
      corner(triangles[h], STRONG);
      corner(triangles[nextSide(h)], STRONG);
    }
    for (const h of other) {
      corner(triangles[h], WEAK);
      corner(triangles[nextSide(h)], WEAK);
    }
    for (let i = 0; i < 6; i++) this.matrix[7 * i] += i < 3 ? 1e-12 : RIDGE * RIDGE;
    solveInto(this.matrix, this.right, c);

    let missed = 0;
    let wanted = 0;
    let weights = 0;
    for (const { x, y, mx, my, g, weight } of slopes) {
      const found = mx * (c[1] + c[3] * x + c[4] * y) + my * (c[2] + c[4] * x + c[5] * y);
      missed += weight * (g - found) ** 2;
      wanted += weight * g * g;
      weights += weight;
    }
    c[0] *= s;
    c[1] *= s / sx;
    c[2] *= s / sy;
    c[3] *= s / (sx * sx);
    c[4] *= s / (sx * sy);
    c[5] *= s / (sy * sy);
    const agreement = wanted > 0 ? Math.max(0, 1 - missed / wanted) : 1;
    return { origin, u, v, normal, c, agreement, slope2: weights > 0 ? wanted / weights : 0 };
  }

  /** Rise inward at the middle of each side of a lone triangle; NaN where its side is no smooth edge. */
  private trianglesSlopes(t: number, smooth: readonly number[]): number[] {
    const slopes = [NaN, NaN, NaN];
    for (const h of smooth) {
      const own = this.extent(t, h);
      const across = this.extent(this.facets.root[(this.graph.twin[h] / 3) | 0], this.graph.twin[h]);
      slopes[h - 3 * t] = (turnAcross(this.graph, h) * own) / (own + across);
    }
    return slopes;
  }

  private add(weight: number, value: number): void {
    const { matrix, right, row } = this;
    for (let i = 0; i < 6; i++) {
      const w = weight * weight * row[i];
      if (w === 0) continue;
      right[i] += w * value;
      for (let j = 0; j < 6; j++) matrix[6 * i + j] += w * row[j];
    }
  }

  /**
   * Height of the surface over the middle of a side, from the slopes at the two smooth edges that the side joins; NaN
   * where it does not join two, or those two meet. Better than the quadratic where the facet grows along them: the strip of a cone.
   */
  sagitta(h: number, bulge: FacetBulge): number {
    const { twin } = this.graph;
    const root = this.facets.root[(h / 3) | 0];
    if (this.facets.size[root] === 1) return NaN;
    const [ex, ey, ez] = this.edgeVector(h);
    let rise = 0;
    for (let end = 0; end < 2; end++) {
      const step = end === 0 ? sideBefore : nextSide;
      let k = step(h);
      // Round the corner, inside the facet.
      while (twin[k] >= 0 && k !== h && this.sideOf(k, root) === 'inside') k = step(twin[k]);
      if (this.sideOf(k, root) !== 'smooth') return NaN;
      const { vertices, triangles } = this.graph.indexed;
      const a = 3 * triangles[k];
      const [kx, ky, kz] = this.edgeVector(k);
      const [, gu, gv] = bulgeAt(
        bulge,
        vertices[a] + kx / 2,
        vertices[a + 1] + ky / 2,
        vertices[a + 2] + kz / 2,
      );
      const { u, v } = bulge;
      const along = gu * (ex * u[0] + ey * u[1] + ez * u[2]) + gv * (ex * v[0] + ey * v[1] + ez * v[2]);
      rise += end === 0 ? along : -along;
    }
    return rise / 8;
  }

  /** True when the surface runs on over this side into another facet. */
  isSmooth(h: number): boolean {
    return this.sideOf(h, this.facets.root[(h / 3) | 0]) === 'smooth';
  }

  private sideOf(h: number, root: number): 'inside' | 'smooth' | 'end' {
    const { twin, normals } = this.graph;
    const { triangles } = this.graph.indexed;
    const other = twin[h];
    if (other < 0) return 'end';
    const t = (h / 3) | 0;
    const u = (other / 3) | 0;
    if (this.facets.root[u] === root) return 'inside';
    const chord2 = squaredChord(normals, t, u, triangles[h] === triangles[other]);
    return runsOn(this.faceOfTriangle[t], this.faceOfTriangle[u], this.mode, chord2) ? 'smooth' : 'end';
  }

  private edgeVector(h: number): [number, number, number] {
    const { vertices, triangles } = this.graph.indexed;
    const a = 3 * triangles[h];
    const b = 3 * triangles[nextSide(h)];
    return [vertices[b] - vertices[a], vertices[b + 1] - vertices[a + 1], vertices[b + 2] - vertices[a + 2]];
  }

  private edgeLength(h: number): number {
    const [x, y, z] = this.edgeVector(h);
    return Math.sqrt(x * x + y * y + z * z);
  }

  /** How far the facet reaches from the line of one of its edges. */
  private extent(root: number, h: number): number {
    const { vertices, triangles } = this.graph.indexed;
    const length = this.edgeLength(h);
    const [ex, ey, ez] = this.edgeVector(h);
    const a = 3 * triangles[h];
    let most2 = 0;
    let looked = 0;
    for (let t = this.head[root]; t >= 0 && looked < MOST_LOOKED_AT; t = this.next[t], looked++) {
      for (let i = 0; i < 3; i++) {
        const p = 3 * triangles[3 * t + i];
        const dx = vertices[p] - vertices[a];
        const dy = vertices[p + 1] - vertices[a + 1];
        const dz = vertices[p + 2] - vertices[a + 2];
        const along = (dx * ex + dy * ey + dz * ez) / (length * length || 1);
        most2 = Math.max(most2, dx * dx + dy * dy + dz * dz - along * along * length * length);
      }
    }
    return Math.sqrt(most2);
  }
}

/** h and its gradient at a point of space, seen along the facet's normal. */
export function bulgeAt(bulge: FacetBulge, x: number, y: number, z: number): [number, number, number] {
  const { origin, u, v, c } = bulge;
  const dx = x - origin[0];
  const dy = y - origin[1];
  const dz = z - origin[2];
  const a = dx * u[0] + dy * u[1] + dz * u[2];
  const b = dx * v[0] + dy * v[1] + dz * v[2];
  return [
    c[0] + c[1] * a + c[2] * b + (c[3] * a * a) / 2 + c[4] * a * b + (c[5] * b * b) / 2,
    c[1] + c[3] * a + c[4] * b,
    c[2] + c[4] * a + c[5] * b,
  ];
}

/** Two directions in the plane across `normal`, the first along `wish` as near as can be. */
function frameOf(
  normal: readonly number[],
  wish: readonly number[],
): [[number, number, number], [number, number, number]] {
  const dot = wish[0] * normal[0] + wish[1] * normal[1] + wish[2] * normal[2];
  let x = wish[0] - dot * normal[0];
  let y = wish[1] - dot * normal[1];
  let z = wish[2] - dot * normal[2];
  let length = Math.hypot(x, y, z);
  if (!(length > 1e-6 * Math.hypot(wish[0], wish[1], wish[2]))) {
    const least = Math.abs(normal[0]) < 0.6 ? [1, 0, 0] : [0, 1, 0];
    const d = least[0] * normal[0] + least[1] * normal[1] + least[2] * normal[2];
    [x, y, z] = [least[0] - d * normal[0], least[1] - d * normal[1], least[2] - d * normal[2]];
    length = Math.hypot(x, y, z);
  }
  const u: [number, number, number] = [x / length, y / length, z / length];
  return [
    u,
    [
      normal[1] * u[2] - normal[2] * u[1],
      normal[2] * u[0] - normal[0] * u[2],
      normal[0] * u[1] - normal[1] * u[0],
    ],
  ];
}

/**
 * A triangle whose corners lie on the surface, with the slopes known at some of its sides: with sides e₀ e₁ e₂, heights
 * h and curvature matrix H the rise inward at side k is eᵢᵀ H eⱼ / (2 hₖ). Among all H that agree the least bent is
 * taken; a plain least-squares fit loses it to rounding in a triangle a hundred times as long as wide.
 */
function fitTriangleInto(
  c: Float64Array,
  corners: readonly (readonly [number, number])[],
  slopes: readonly number[],
): void {
  const side = [0, 1, 2].map((k) => [
    corners[(k + 1) % 3][0] - corners[k][0],
    corners[(k + 1) % 3][1] - corners[k][1],
  ]);
  const twiceArea = side[0][0] * side[1][1] - side[0][1] * side[1][0];
  if (!(twiceArea > 0)) return;
  // Rows of the constraints on (Hxx, √2 Hxy, Hyy), each made unit length.
  const rows: number[][] = [];
  const values: number[] = [];
  for (let k = 0; k < 3; k++) {
    if (Number.isNaN(slopes[k])) continue;
    const [a, b] = [side[(k + 1) % 3], side[(k + 2) % 3]];
    const row = [a[0] * b[0], (a[0] * b[1] + a[1] * b[0]) / Math.SQRT2, a[1] * b[1]];
    const size = Math.hypot(row[0], row[1], row[2]);
    rows.push(row.map((x) => x / size));
    values.push((2 * twiceArea * slopes[k]) / Math.hypot(side[k][0], side[k][1]) / size);
  }
  // Gram–Schmidt: the least H is a sum of the rows.
  const basis: number[][] = [];
  const amounts: number[] = [];
  rows.forEach((row, i) => {
    const rest = row.slice();
    let value = values[i];
    basis.forEach((known, j) => {
      const dot = row[0] * known[0] + row[1] * known[1] + row[2] * known[2];
      for (let k = 0; k < 3; k++) rest[k] -= dot * known[k];
      value -= dot * amounts[j];
    });
    const size = Math.hypot(rest[0], rest[1], rest[2]);
    if (size < 1e-6) return;
    basis.push(rest.map((x) => x / size));
    amounts.push(value / size);
  });
  const bent = [0, 1, 2].map((k) => basis.reduce((sum, row, i) => sum + row[k] * amounts[i], 0));
  const [hxx, hxy, hyy] = [bent[0], bent[1] / Math.SQRT2, bent[2]];
  // The plane that brings the three corners back to 0.
  const w = corners.map(([x, y]) => -((hxx * x * x) / 2 + hxy * x * y + (hyy * y * y) / 2));
  const gx = -(w[0] * side[1][1] + w[1] * side[2][1] + w[2] * side[0][1]) / twiceArea;
  const gy = (w[0] * side[1][0] + w[1] * side[2][0] + w[2] * side[0][0]) / twiceArea;
  c.set([w[0] - gx * corners[0][0] - gy * corners[0][1], gx, gy, hxx, hxy, hyy]);
}

/** Solves the symmetric 6 × 6 system by Cholesky; a pivot lost to rounding leaves its unknown at 0. Destroys `a`. */
function solveInto(a: Float64Array, b: Float64Array, x: Float64Array): void {
  const n = 6;
  for (let i = 0; i < n; i++) {
    const whole = a[n * i + i];
    for (let j = 0; j <= i; j++) {
      let sum = a[n * i + j];
      for (let k = 0; k < j; k++) sum -= a[n * i + k] * a[n * j + k];
      if (i === j) a[n * i + i] = sum > 1e-13 * whole ? Math.sqrt(sum) : Infinity;
      else a[n * i + j] = sum / a[n * j + j];
    }
  }
  for (let i = 0; i < n; i++) {
    let sum = b[i];
    for (let k = 0; k < i; k++) sum -= a[n * i + k] * x[k];
    x[i] = sum / a[n * i + i];
  }
  for (let i = n - 1; i >= 0; i--) {
    let sum = x[i];
    for (let k = i + 1; k < n; k++) sum -= a[n * k + i] * x[k];
    x[i] = sum / a[n * i + i];
  }
}

function sideBefore(h: number): number {
  return h % 3 === 0 ? h + 2 : h - 1;
}

/** The half-edge after `h` in its triangle: it starts where `h` ends. */
export function nextSide(h: number): number {
  return h % 3 === 2 ? h - 2 : h + 1;
}
