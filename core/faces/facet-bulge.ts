import type { FlatFacets } from './flat-facets.ts';
import { fitFourSidedInto } from './fit-four-sided.ts';
import { fitTriangleInto } from './fit-triangle.ts';
import { NormalSystem } from './normal-system.ts';
import { edgeTurns } from './edge-turns.ts';
import type { SurfaceGraph } from './surface-graph.ts';

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

/** Facets that a cone is drawn with at least, and smooth edges of one of them at most. */
const LEAST_SPOKES = 5;
const MOST_SPOKES = 64;
/** Cosine between edges of one straight line. */
const STRAIGHT = 1 - 1e-6;
const NO_CORNER = -1;
const TWO_CORNERS = -2;

/** Values a facet: origin, two directions in its plane and its normal (12), then the quadratic (6). */
const STRIDE = 18;
const QUADRATIC = 12;

/** Where a side of a facet leads. */
export const INSIDE = 0;
export const SMOOTH = 1;
export const END = 2;

/**
 * How far the true surface stands above flat facets: for each a quadratic h(x, y) = c₀ + c₁ x + c₂ y + c₃ x²/2 + c₄ x y +
 * c₅ y²/2 in its plane, fitted to what the mesh tells about it. Corners between smooth facets lie on the surface
 * (h = 0); at the middle of a smooth edge the surface rises from the facet by its share of the turn, the facet's own extent from
 * the edge against both. Other corners are probably on the surface as well, or cut into the facet by a hole: they only
 * decide what the first two leave open.
 *
 * All facets are kept in one array: there may be hundreds of thousands. The file is long because the ways to fit one share
 * its frame, its slopes and their scratch.
 */
export class FacetBulges {
  /** Per facet added: 1 where the slopes at its edges agree with one another, 0 where they contradict. */
  readonly agreement: Float64Array;
  /** Per facet added: mean square of those slopes. */
  readonly slope2: Float64Array;
  /** Height over the facet and its gradient along the facet's two directions, as bulgeAt leaves them. */
  readonly at = new Float64Array(3);

  /**
   * Per facet added that reaches from rim to rim of a cylinder or cone, or from a cone's rim to its tip: the mean rise of the
   * surface inward over its two long edges, and the mean square of it. NaN for the others.
   */
  readonly ruledRise: Float64Array;
  readonly ruledRise2: Float64Array;

  private readonly values: Float64Array;
  private readonly tips = new Map<number, boolean>();
  private readonly rowOfRoot: Int32Array;
  private readonly graph: SurfaceGraph;
  private readonly turns: Float32Array;
  private readonly facets: FlatFacets;
  /** Triangles of a facet as a chain: head[root], next[…], until −1. */
  private readonly head: Int32Array;
  private readonly next: Int32Array;
  private readonly system = new NormalSystem();
  /** Smooth edges of the facet at hand: half-edge, and x, y of the middle, inward normal, slope, length. */
  private readonly smooth: number[] = [];
  private slopes = new Float64Array(64);
  /** The sides of a four-sided facet in order; per side its distance as a + b x + c y, and its middle. */
  private readonly sides = new Int32Array(4);
  private readonly lines = new Float64Array(20);
  /** Per side the rise inward and its weight; then their mean square. */
  private readonly rises = new Float64Array(9);

  /** @param roots facets to work out, see flat-facets.ts */
  constructor(graph: SurfaceGraph, facets: FlatFacets, roots: readonly number[]) {
    this.graph = graph;
    this.turns = edgeTurns(graph);
    this.facets = facets;
    const { root } = facets;
    this.head = new Int32Array(root.length).fill(-1);
    this.next = new Int32Array(root.length);
    for (let t = root.length - 1; t >= 0; t--) {
      this.next[t] = this.head[root[t]];
      this.head[root[t]] = t;
    }
    this.rowOfRoot = new Int32Array(root.length).fill(-1);
    this.values = new Float64Array(STRIDE * roots.length);
    this.agreement = new Float64Array(roots.length).fill(1);
    this.slope2 = new Float64Array(roots.length);
    this.ruledRise = new Float64Array(roots.length).fill(NaN);
    this.ruledRise2 = new Float64Array(roots.length).fill(NaN);
    roots.forEach((r, row) => {
      this.rowOfRoot[r] = row;
      this.fit(r, row);
    });
  }

  /** Row of the facet that a triangle belongs to, −1 when it was not among the roots. */
  rowOf(triangle: number): number {
    return this.rowOfRoot[this.facets.root[triangle]];
  }

  firstTriangle(root: number): number {
    return this.head[root];
  }

  /** −1 after the last. */
  nextTriangle(triangle: number): number {
    return this.next[triangle];
  }

  /** One number of a facet's frame: 0-2 origin, 3-5 and 6-8 its directions, 9-11 its normal. */
  frame(row: number, index: number): number {
    return this.values[STRIDE * row + index];
  }

  /** Leaves h and its gradient at a point of space, seen along the facet's normal, in `at`. */
  bulgeAt(row: number, px: number, py: number, pz: number): void {
    const { values, at } = this;
    const o = STRIDE * row;
    const q = o + QUADRATIC;
    const dx = px - values[o];
    const dy = py - values[o + 1];
    const dz = pz - values[o + 2];
    const x = dx * values[o + 3] + dy * values[o + 4] + dz * values[o + 5];
    const y = dx * values[o + 6] + dy * values[o + 7] + dz * values[o + 8];
    const c3 = values[q + 3];
    const c4 = values[q + 4];
    const c5 = values[q + 5];
    at[0] =
      values[q] + values[q + 1] * x + values[q + 2] * y + (c3 * x * x) / 2 + c4 * x * y + (c5 * y * y) / 2;
    at[1] = values[q + 1] + c3 * x + c4 * y;
    at[2] = values[q + 2] + c4 * x + c5 * y;
  }

  sideOf(h: number): typeof INSIDE | typeof SMOOTH | typeof END {
    const { root, smooth } = this.facets;
    const other = this.graph.twin[h];
    if (other < 0) return END;
    if (root[(other / 3) | 0] === root[(h / 3) | 0]) return INSIDE;
    return smooth[h] !== 0 ? SMOOTH : END;
  }

  /**
   * Height of the surface over the middle of a side, from the slopes at the two smooth edges that the side joins; NaN
   * where it does not join two, or those two meet elsewhere than in the tip of a cone. Better than the quadratic where the
   * facet grows along them: the strip of a cone.
   */
  sagitta(h: number): number {
    const { twin } = this.graph;
    const { vertices, triangles } = this.graph.indexed;
    const t = (h / 3) | 0;
    const root = this.facets.root[t];
    const row = this.rowOfRoot[root];
    if (!Number.isNaN(this.ruledRise[row])) return (this.ruledRise[row] * Math.sqrt(this.edgeLength2(h))) / 4;
    if (this.facets.size[root] === 1) return NaN;
    const from = 3 * triangles[h];
    const to = 3 * triangles[nextSide(h)];
    const ex = vertices[to] - vertices[from];
    const ey = vertices[to + 1] - vertices[from + 1];
    const ez = vertices[to + 2] - vertices[from + 2];
    const o = STRIDE * row;
    const { values } = this;
    const eu = ex * values[o + 3] + ey * values[o + 4] + ez * values[o + 5];
    const ev = ex * values[o + 6] + ey * values[o + 7] + ez * values[o + 8];
    let rise = 0;
    for (let end = 0; end < 2; end++) {
      // Round the corner, inside the facet.
      let k = end === 0 ? sideBefore(h) : nextSide(h);
      let side = this.sideOf(k);
      while (side === INSIDE && k !== h) {
        k = end === 0 ? sideBefore(twin[k]) : nextSide(twin[k]);
        side = this.sideOf(k);
      }
      if (side !== SMOOTH) return NaN;
      const a = 3 * triangles[k];
      const b = 3 * triangles[nextSide(k)];
      this.bulgeAt(
        row,
        (vertices[a] + vertices[b]) / 2,
        (vertices[a + 1] + vertices[b + 1]) / 2,
        (vertices[a + 2] + vertices[b + 2]) / 2,
      );
      const along = this.at[1] * eu + this.at[2] * ev;
      rise += end === 0 ? along : -along;
    }
    return rise / 8;
  }

  private fit(root: number, row: number): void {
    const { triangles } = this.graph.indexed;
    const { twin } = this.graph;
    const { head, next, smooth, values } = this;
    const o = STRIDE * row;
    if (!this.place(root, o)) return;
    smooth.length = 0;
    let longest = -1;
    let longest2 = 0;
    for (let t = head[root]; t >= 0; t = next[t]) {
      for (let h = 3 * t; h < 3 * t + 3; h++) {
        if (this.sideOf(h) !== SMOOTH) continue;
        smooth.push(h);
        const length2 = this.edgeLength2(h);
        if (length2 > longest2) {
          longest2 = length2;
          longest = h;
        }
      }
    }
    if (longest < 0) return;
    // x along the longest smooth edge, each direction in its own scale: a long thin strip is fitted as well as a square.
    this.turnFrame(o, longest);
    let sx = 0;
    let sy = 0;
    for (let t = head[root]; t >= 0; t = next[t]) {
      for (let h = 3 * t; h < 3 * t + 3; h++) {
        const x = Math.abs(this.along(o + 3, o, triangles[h]));
        const y = Math.abs(this.along(o + 6, o, triangles[h]));
        if (x > sx) sx = x;
        if (y > sy) sy = y;
      }
    }
    if (!(sx > 0 && sy > 0)) return;
    const s = Math.min(sx, sy);
    if (this.slopes.length < 6 * smooth.length) this.slopes = new Float64Array(12 * smooth.length);
    const { slopes } = this;
    let known = 0;
    for (const h of smooth) {
      const own = this.extent(root, h);
      const across = this.extent(this.facets.root[(twin[h] / 3) | 0], twin[h]);
      const a = triangles[h];
      const b = triangles[nextSide(h)];
      const ax = this.along(o + 3, o, a);
      const ay = this.along(o + 6, o, a);
      const bx = this.along(o + 3, o, b);
      const by = this.along(o + 6, o, b);
      const length = Math.sqrt((bx - ax) * (bx - ax) + (by - ay) * (by - ay));
      if (!(own + across > 0) || !(length > 0)) continue;
      const k = 6 * known++;
      slopes[k] = (ax + bx) / 2 / sx;
      slopes[k + 1] = (ay + by) / 2 / sy;
      slopes[k + 2] = (-(by - ay) / length) * (s / sx);
      slopes[k + 3] = ((bx - ax) / length) * (s / sy);
      slopes[k + 4] = (this.turns[h] * own) / (own + across);
      slopes[k + 5] = Math.sqrt(length / Math.sqrt(longest2));
    }
    if (known === smooth.length && known >= 2) this.markRuled(root, row);
    if (this.facets.size[root] === 1) {
      const known3 = [NaN, NaN, NaN];
      if (known === smooth.length) smooth.forEach((h, i) => (known3[h - 3 * root] = slopes[6 * i + 4]));
      const corners = [0, 1, 2].map((i): [number, number] => [
        this.along(o + 3, o, triangles[3 * root + i]),
        this.along(o + 6, o, triangles[3 * root + i]),
      ]);
      fitTriangleInto(values, o + QUADRATIC, corners, known3);
      return;
    }
    if (this.facets.size[root] === 2 && this.fitFourSided(root, row, known)) return;
    const { system } = this;
    system.clear();
    for (let k = 0; k < 6 * known; k += 6) {
      const x = slopes[k];
      const y = slopes[k + 1];
      const mx = slopes[k + 2];
      const my = slopes[k + 3];
      system.row(0, mx, my, mx * x, mx * y + my * x, my * y);
      system.add(slopes[k + 5], slopes[k + 4]);
      this.touch(x, y, RULING);
    }
    for (let t = head[root]; t >= 0; t = next[t]) {
      for (let h = 3 * t; h < 3 * t + 3; h++) {
        const side = this.sideOf(h);
        if (side === INSIDE) continue;
        for (let end = 0; end < 2; end++) {
          const vertex = triangles[end === 0 ? h : nextSide(h)];
          const x = this.along(o + 3, o, vertex) / sx;
          const y = this.along(o + 6, o, vertex) / sy;
          this.touch(x, y, side === SMOOTH ? STRONG : WEAK);
        }
      }
    }
    for (let i = 0; i < 6; i++) system.pull(i, i < 3 ? 1e-12 : RIDGE * RIDGE);
    const c = system.solve();
    let missed = 0;
    let wanted = 0;
    let weights = 0;
    for (let k = 0; k < 6 * known; k += 6) {
      const x = slopes[k];
      const y = slopes[k + 1];
      const found =
        slopes[k + 2] * (c[1] + c[3] * x + c[4] * y) + slopes[k + 3] * (c[2] + c[4] * x + c[5] * y);
      const g = slopes[k + 4];
      missed += slopes[k + 5] * (g - found) * (g - found);
      wanted += slopes[k + 5] * g * g;
      weights += slopes[k + 5];
    }
    if (wanted > 0) {
      this.agreement[row] = Math.max(0, 1 - missed / wanted);
      this.slope2[row] = wanted / weights;
    }
    const q = o + QUADRATIC;
    values[q] = c[0] * s;
    values[q + 1] = c[1] * (s / sx);
    values[q + 2] = c[2] * (s / sy);
    values[q + 3] = c[3] * (s / (sx * sx));
    values[q + 4] = c[4] * (s / (sx * sy));
    values[q + 5] = c[5] * (s / (sy * sy));
  }

  /**
   * Whether all the facet's smooth edges lie along two lines, and all else of it is a rim at their ends: one rim where
   * the lines meet in a tip, round which every facet is such a one, else two. Over such a facet the surface rises by the
   * same everywhere along a line, which no quadratic does where the lines draw together: it takes the arc of a pointed
   * cone's rim for twice as high.
   */
  private markRuled(root: number, row: number): void {
    const { triangles } = this.graph.indexed;
    const { smooth, slopes } = this;
    const count = smooth.length;
    if (count > MOST_SPOKES) return;
    const rims = this.rims(root);
    if (rims !== 1 && rims !== 2) return;
    let tip = NO_CORNER;
    for (let i = 0; i < count; i++) {
      const end = triangles[nextSide(smooth[i])];
      for (let k = 0; k < count; k++) {
        if (triangles[smooth[k]] !== end || this.runsAlong(smooth[i], smooth[k])) continue;
        tip = tip === NO_CORNER ? k : TWO_CORNERS;
      }
    }
    if (rims !== (tip === NO_CORNER ? 2 : 1)) return;
    if (tip === TWO_CORNERS || (tip !== NO_CORNER && !this.isTip(smooth[tip]))) return;
    const line = smooth[Math.max(tip, 0)];
    let [length1, risen1, length2, risen2] = [0, 0, 0, 0];
    for (let i = 0; i < count; i++) {
      const length = Math.sqrt(this.edgeLength2(smooth[i]));
      const risen = length * slopes[6 * i + 4];
      if (this.runsAlong(smooth[i], line)) {
        length1 += length;
        risen1 += risen;
      } else {
        length2 += length;
        risen2 += risen;
      }
    }
    if (!(length1 > 0 && length2 > 0)) return;
    const rise1 = risen1 / length1;
    const rise2 = risen2 / length2;
    this.ruledRise[row] = (rise1 + rise2) / 2;
    this.ruledRise2[row] = (rise1 * rise1 + rise2 * rise2) / 2;
  }

  /** Whether two edges point the same way. */
  private runsAlong(h: number, k: number): boolean {
    const { vertices, triangles } = this.graph.indexed;
    const a = 3 * triangles[h];
    const b = 3 * triangles[nextSide(h)];
    const c = 3 * triangles[k];
    const d = 3 * triangles[nextSide(k)];
    const dot =
      (vertices[b] - vertices[a]) * (vertices[d] - vertices[c]) +
      (vertices[b + 1] - vertices[a + 1]) * (vertices[d + 1] - vertices[c + 1]) +
      (vertices[b + 2] - vertices[a + 2]) * (vertices[d + 2] - vertices[c + 2]);
    return dot > 0 && dot * dot > STRAIGHT * STRAIGHT * this.edgeLength2(h) * this.edgeLength2(k);
  }

  private rims(root: number): number {
    let rims = 0;
    let looked = 0;
    for (let t = this.head[root]; t >= 0; t = this.next[t]) {
      if (++looked > MOST_LOOKED_AT) return NaN;
      for (let h = 3 * t; h < 3 * t + 3; h++) if (this.sideOf(h) === END) rims++;
    }
    return rims;
  }

  /** Whether the surface closes round the start of a half-edge, of facets that all reach a rim. */
  private isTip(spoke: number): boolean {
    const { twin } = this.graph;
    const { triangles } = this.graph.indexed;
    const { root, ends } = this.facets;
    const tip = triangles[spoke];
    const known = this.tips.get(tip);
    if (known !== undefined) return known;
    let isOne = true;
    let spokes = 0;
    let at = spoke;
    do {
      at = twin[sideBefore(at)];
      isOne = at >= 0 && triangles[at] === tip && ends[root[(at / 3) | 0]] !== 0 && this.sideOf(at) !== END;
      if (isOne && this.sideOf(at) === SMOOTH) spokes++;
    } while (isOne && at !== spoke);
    isOne &&= spokes >= LEAST_SPOKES;
    this.tips.set(tip, isOne);
    return isOne;
  }

  /**
   * The same for a four-sided facet of two triangles with all corners between smooth facets, the usual case.
   *
   * @param known how many slopes are in `slopes`, in the order of `smooth`; false when the facet is of another kind
   */
  private fitFourSided(root: number, row: number, known: number): boolean {
    const { twin } = this.graph;
    const { triangles } = this.graph.indexed;
    const { values, smooth, slopes, sides, lines, rises } = this;
    if (known !== smooth.length || known < 2) return false;
    const o = STRIDE * row;
    let k = 3 * root;
    while (k < 3 * root + 3 && this.sideOf(k) !== INSIDE) k++;
    if (k === 3 * root + 3) return false;
    sides[0] = nextSide(k);
    sides[1] = sideBefore(k);
    sides[2] = nextSide(twin[k]);
    sides[3] = sideBefore(twin[k]);
    let before = this.sideOf(sides[3]) === SMOOTH;
    for (let i = 0; i < 4; i++) {
      const here = this.sideOf(sides[i]);
      if (here === INSIDE || (here !== SMOOTH && !before)) return false;
      before = here === SMOOTH;
      const a = triangles[sides[i]];
      const b = triangles[nextSide(sides[i])];
      const ax = this.along(o + 3, o, a);
      const ay = this.along(o + 6, o, a);
      const ex = this.along(o + 3, o, b) - ax;
      const ey = this.along(o + 6, o, b) - ay;
      const length = Math.sqrt(ex * ex + ey * ey);
      if (!(length > 0)) return false;
      // Distance inward of the side: lines[…] + x · … + y · …
      lines[5 * i + 1] = -ey / length;
      lines[5 * i + 2] = ex / length;
      lines[5 * i] = (ey * ax - ex * ay) / length;
      lines[5 * i + 3] = ax + ex / 2;
      lines[5 * i + 4] = ay + ey / 2;
    }
    for (let i = 0; i < 4; i++) {
      const k = smooth.indexOf(sides[i]);
      rises[2 * i] = k < 0 ? 0 : slopes[6 * k + 4];
      rises[2 * i + 1] = k < 0 ? 0 : slopes[6 * k + 5];
    }
    this.agreement[row] = fitFourSidedInto(values, o + QUADRATIC, lines, rises);
    this.slope2[row] = rises[8];
    return true;
  }

  /** The surface passes through the facet there. */
  private touch(x: number, y: number, weight: number): void {
    this.system.row(1, x, y, (x * x) / 2, x * y, (y * y) / 2);
    this.system.add(weight, 0);
  }

  /** Origin at the facet's centroid and its mean normal; false when it has no area. Directions any way round. */
  private place(root: number, o: number): boolean {
    const { triangleAreas, normals } = this.graph;
    const { vertices, triangles } = this.graph.indexed;
    const { values } = this;
    values[o + 3] = values[o + 7] = values[o + 11] = 1;
    let area = 0;
    let nx = 0;
    let ny = 0;
    let nz = 0;
    let x = 0;
    let y = 0;
    let z = 0;
    for (let t = this.head[root]; t >= 0; t = this.next[t]) {
      const a = triangleAreas[t];
      area += a;
      nx += a * normals[3 * t];
      ny += a * normals[3 * t + 1];
      nz += a * normals[3 * t + 2];
      for (let h = 3 * t; h < 3 * t + 3; h++) {
        const v = 3 * triangles[h];
        x += a * vertices[v];
        y += a * vertices[v + 1];
        z += a * vertices[v + 2];
      }
    }
    const size = Math.sqrt(nx * nx + ny * ny + nz * nz);
    if (!(area > 0) || !(size > 0)) return false;
    values[o] = x / (3 * area);
    values[o + 1] = y / (3 * area);
    values[o + 2] = z / (3 * area);
    values[o + 9] = nx / size;
    values[o + 10] = ny / size;
    values[o + 11] = nz / size;
    // Any direction in the plane, for facets that stay flat.
    const steep = Math.abs(values[o + 9]) > 0.6;
    this.layFrame(o, steep ? 0 : 1, steep ? 1 : 0, 0);
    return true;
  }

  private turnFrame(o: number, h: number): void {
    const { vertices, triangles } = this.graph.indexed;
    const a = 3 * triangles[h];
    const b = 3 * triangles[nextSide(h)];
    this.layFrame(
      o,
      vertices[b] - vertices[a],
      vertices[b + 1] - vertices[a + 1],
      vertices[b + 2] - vertices[a + 2],
    );
  }

  /** First direction along x y z as near as the plane lets it, the second across it. */
  private layFrame(o: number, x: number, y: number, z: number): void {
    const { values } = this;
    const nx = values[o + 9];
    const ny = values[o + 10];
    const nz = values[o + 11];
    const dot = x * nx + y * ny + z * nz;
    const ux = x - dot * nx;
    const uy = y - dot * ny;
    const uz = z - dot * nz;
    const length = Math.sqrt(ux * ux + uy * uy + uz * uz);
    if (!(length > 0)) return;
    values[o + 3] = ux / length;
    values[o + 4] = uy / length;
    values[o + 5] = uz / length;
    values[o + 6] = ny * values[o + 5] - nz * values[o + 4];
    values[o + 7] = nz * values[o + 3] - nx * values[o + 5];
    values[o + 8] = nx * values[o + 4] - ny * values[o + 3];
  }

  /** A vertex's place along the direction kept at `d`, from the origin kept at `o`. */
  private along(d: number, o: number, vertex: number): number {
    const { values } = this;
    const { vertices } = this.graph.indexed;
    const v = 3 * vertex;
    return (
      (vertices[v] - values[o]) * values[d] +
      (vertices[v + 1] - values[o + 1]) * values[d + 1] +
      (vertices[v + 2] - values[o + 2]) * values[d + 2]
    );
  }

  private edgeLength2(h: number): number {
    const { vertices, triangles } = this.graph.indexed;
    const a = 3 * triangles[h];
    const b = 3 * triangles[nextSide(h)];
    const x = vertices[b] - vertices[a];
    const y = vertices[b + 1] - vertices[a + 1];
    const z = vertices[b + 2] - vertices[a + 2];
    return x * x + y * y + z * z;
  }

  /** How far the facet reaches from the line of one of its edges. */
  private extent(root: number, h: number): number {
    const { vertices, triangles } = this.graph.indexed;
    const a = 3 * triangles[h];
    const b = 3 * triangles[nextSide(h)];
    const ex = vertices[b] - vertices[a];
    const ey = vertices[b + 1] - vertices[a + 1];
    const ez = vertices[b + 2] - vertices[a + 2];
    const length2 = ex * ex + ey * ey + ez * ez || 1;
    let most2 = 0;
    let looked = 0;
    for (let t = this.head[root]; t >= 0 && looked < MOST_LOOKED_AT; t = this.next[t], looked++) {
      for (let i = 3 * t; i < 3 * t + 3; i++) {
        const p = 3 * triangles[i];
        const dx = vertices[p] - vertices[a];
        const dy = vertices[p + 1] - vertices[a + 1];
        const dz = vertices[p + 2] - vertices[a + 2];
        const cx = dy * ez - dz * ey;
        const cy = dz * ex - dx * ez;
        const cz = dx * ey - dy * ex;
        const away2 = cx * cx + cy * cy + cz * cz;
        if (away2 > most2) most2 = away2;
      }
    }
    return Math.sqrt(most2 / length2);
  }
}

/** The half-edge after `h` in its triangle: it starts where `h` ends. */
export function nextSide(h: number): number {
  return h % 3 === 2 ? h - 2 : h + 1;
}

function sideBefore(h: number): number {
  return h % 3 === 0 ? h + 2 : h - 1;
}
