import type { FieldBody, WallCathode } from './bath-bodies.ts';
import type { SurfacePatches } from './cell-system.ts';
import type { CutPieces } from './conducting-pieces.ts';
import { leastSlope } from './electrode-law.ts';
import { cellAt } from './graded-axis.ts';
import type { WallCell } from './thin-walls.ts';

/** The grid with its conductances, places as in CellSystem. */
export interface CutGrid {
  readonly nx: number;
  readonly ny: number;
  readonly nz: number;
  readonly plane: number;
  readonly size: number;
  readonly axes: readonly [Float64Array, Float64Array, Float64Array];
  readonly gx: Float32Array;
  readonly gy: Float32Array;
  readonly gz: Float32Array;
  readonly kappa: number;
  /** 1 for cells with liquid that no current reaches. */
  readonly cutOff: Uint8Array;
}

/** A middle nearer to the surface than this share of the cell's smallest side is moved off it. */
const LEAST_SHARE = 0.15;
/** Patches under construction: pieces of one owner in one cell that face the same way become one. */
export class PatchCollector {
  readonly cells: number[] = [];
  readonly owners: number[] = [];
  private readonly areas: number[] = [];
  private readonly distances: number[] = [];
  private readonly laws: number[] = [];
  private readonly places = new Map<number, number>();

  add(cell: number, owner: number, facing: number, law: number, areaM2: number, distanceM: number): number {
    const key = (cell * 6 + facing) * 4096 + owner;
    let patch = this.places.get(key);
    if (patch === undefined) {
      patch = this.cells.length;
      this.places.set(key, patch);
      this.cells.push(cell);
      this.owners.push(owner);
      this.areas.push(0);
      this.distances.push(0);
      this.laws.push(law);
    }
    this.areas[patch] += areaM2;
    this.distances[patch] += areaM2 * distanceM;
    return patch;
  }

  patches(kappa: number): SurfacePatches {
    return {
      count: this.cells.length,
      cell: Int32Array.from(this.cells),
      areaM2: Float64Array.from(this.areas),
      layerOhmM2: Float64Array.from(this.distances, (moment, p) => moment / this.areas[p] / kappa),
      law: Uint16Array.from(this.laws),
    };
  }
}

export function collectPieces(
  into: PatchCollector,
  role: 'anode' | 'cathode',
  bodies: readonly FieldBody[],
  pieces: CutPieces,
  grid: CutGrid,
  walls: ReadonlyMap<number, WallCell>,
  lawOfBody: readonly number[],
): void {
  const slopes = bodies.map((body) => (body.law ? leastSlope(body.law) : 0));
  const host = { cell: 0, distanceM: 0 };
  for (let p = 0; p < pieces.count; p++) {
    const body = pieces.body[p];
    if (bodies[body].role !== role) continue;
    if (!findHost(host, grid, walls, pieces.centroidM, pieces.normal, p * 3, slopes[body])) continue;
    const facing = facingOf(pieces.normal, p * 3);
    pieces.patch[p] = into.add(host.cell, body, facing, lawOfBody[body], pieces.areaM2[p], host.distanceM);
  }
}

/** The axis the normal lies nearest to, twice, plus one when it points backwards. */
function facingOf(normal: Float32Array, o: number): number {
  let axis = 0;
  for (let n = 1; n < 3; n++) if (Math.abs(normal[o + n]) > Math.abs(normal[o + axis])) axis = n;
  return axis * 2 + (normal[o + axis] < 0 ? 1 : 0);
}

/** Cell that carries a piece of surface, and the distance of its middle in front of the piece. False when there is no liquid. */
function findHost(
  out: { cell: number; distanceM: number },
  grid: CutGrid,
  walls: ReadonlyMap<number, WallCell>,
  centroid: Float64Array,
  normal: Float32Array,
  o: number,
  slope: number,
): boolean {
  const { axes, nx, ny, plane } = grid;
  const counts = [nx, ny, grid.nz];
  const at = [0, 0, 0];
  for (let n = 0; n < 3; n++) {
    at[n] = Math.min(counts[n] - 1, Math.max(0, cellAt(axes[n], centroid[o + n])));
  }
  let smallest = Infinity;
  for (let n = 0; n < 3; n++) smallest = Math.min(smallest, axes[n][at[n] + 1] - axes[n][at[n]]);
  const leastM = LEAST_SHARE * smallest - grid.kappa * slope;
  const distance = (of: readonly number[]) => {
    let d = 0;
    for (let n = 0; n < 3; n++) {
      d += ((axes[n][of[n]] + axes[n][of[n] + 1]) / 2 - centroid[o + n]) * normal[o + n];
    }
    return d;
  };
  const own = plane + at[0] + nx * (at[1] + ny * at[2]);
  const ownOpen = isOpen(grid, own);
  const ownDistance = distance(at);
  const wall = walls.get(own - plane);
  const behindWall = wall !== undefined && isOnFarSide(wall, normal, o);
  if (ownOpen && !behindWall && ownDistance >= leastM) {
    out.cell = own;
    out.distanceM = ownDistance;
    return true;
  }
  if (!ownOpen && !behindWall && grid.cutOff[own] === 1) return false;
  const inFront = at.map((_, n) => centroid[o + n] + 1e-3 * smallest * normal[o + n]);
  for (const [dx, dy, dz] of stepsAlong(normal, o, behindWall)) {
    const to = [at[0] + dx, at[1] + dy, at[2] + dz];
    if (to.some((place, n) => place < 0 || place >= counts[n])) continue;
    const cell = plane + to[0] + nx * (to[1] + ny * to[2]);
    const d = distance(to);
    if (!isOpen(grid, cell) || d < Math.max(0, leastM)) continue;
    if (wall && behindWall && wall.sideAt(middleOf(grid, to)) === wall.own) continue;
    const other = walls.get(cell - plane);
    if (other && other.sideAt(inFront) !== other.own) continue;
    out.cell = cell;
    out.distanceM = d;
    return true;
  }
  if (!ownOpen || behindWall) return false;
  out.cell = own;
  out.distanceM = Math.max(ownDistance, leastM);
  return true;
}

function middleOf({ axes }: CutGrid, at: readonly number[]): number[] {
  return at.map((i, n) => (axes[n][i] + axes[n][i + 1]) / 2);
}

/**
 * Where to look for liquid in front of a piece: the next cell along each axis the normal leans to, the steepest first; behind a
 * thin wall also across the edges and the corner between them, and two cells off.
 */
function stepsAlong(normal: Float32Array, o: number, further: boolean): number[][] {
  const order = [0, 1, 2]
    .filter((n) => Math.abs(normal[o + n]) >= 0.3)
    .sort((a, b) => Math.abs(normal[o + b]) - Math.abs(normal[o + a]));
  const step = (n: number) => [0, 1, 2].map((m) => (m === n ? Math.sign(normal[o + n]) : 0));
  const steps = order.map((n) => step(n));
  if (!further) return steps;
  for (let a = 0; a < order.length; a++) {
    for (let b = a + 1; b < order.length; b++) {
      steps.push(step(order[a]).map((x, m) => x + step(order[b])[m]));
    }
  }
  const all = order.reduce((sum, n) => sum.map((x, m) => x + step(n)[m]), [0, 0, 0]);
  return [...steps, all, step(order[0]).map((x) => 2 * x)];
}

/** Whether a piece belongs to the side of a thin wall that its cell was not given to: the cluster most like it tells. */
function isOnFarSide(wall: WallCell, normal: Float32Array, o: number): boolean {
  let best = -Infinity;
  let side = wall.own;
  for (const cluster of wall.clusters) {
    let alike = 0;
    for (let n = 0; n < 3; n++) alike += normal[o + n] * cluster.normal[n];
    if (alike <= best) continue;
    best = alike;
    side = cluster.side;
  }
  return side !== wall.own;
}

function isOpen({ gx, gy, gz, nx, plane }: CutGrid, c: number): boolean {
  return gx[c - 1] > 0 || gx[c] > 0 || gy[c - nx] > 0 || gy[c] > 0 || gz[c - plane] > 0 || gz[c] > 0;
}

/** A sheet on a side of the box: whole and part faces of the cells along it, where there is liquid. */
export function collectSheet(
  into: PatchCollector,
  sheet: WallCathode,
  owner: number,
  grid: CutGrid,
  law: number,
): void {
  const { axes, nx, ny, plane } = grid;
  const axis = 'xyz'.indexOf(sheet.wall[0]);
  const atHigh = sheet.wall[1] === '+';
  const [p, q] = [0, 1, 2].filter((n) => n !== axis);
  const last = axes[axis].length - 2;
  const layer = atHigh ? last : 0;
  const depth = (axes[axis][layer + 1] - axes[axis][layer]) / 2;
  const at = [0, 0, 0];
  at[axis] = layer;
  const overlap = (n: number, m: number) =>
    Math.min(axes[n][at[n] + 1], sheet.highM[m]) - Math.max(axes[n][at[n]], sheet.lowM[m]);
  for (at[q] = 0; at[q] < axes[q].length - 1; at[q]++) {
    const high = overlap(q, 1);
    if (!(high > 0)) continue;
    for (at[p] = 0; at[p] < axes[p].length - 1; at[p]++) {
      const wide = overlap(p, 0);
      if (!(wide > 0)) continue;
      const cell = plane + at[0] + nx * (at[1] + ny * at[2]);
      if (!isOpen(grid, cell)) continue;
      into.add(cell, owner, axis * 2 + (atHigh ? 1 : 0), law, wide * high, depth);
    }
  }
}

/** Shuts every face of the cells no current can reach from a cathode: hollows inside parts, outside of a round tub. */
export function closeUnreached(grid: CutGrid, from: readonly number[]): void {
  const { gx, gy, gz, nx, plane, size } = grid;
  const reached = new Uint8Array(size);
  let queue = new Int32Array(1 << 16);
  let length = 0;
  const push = (c: number) => {
    if (reached[c]) return;
    reached[c] = 1;
    if (length === queue.length) {
      const more = new Int32Array(queue.length * 2);
      more.set(queue);
      queue = more;
    }
    queue[length++] = c;
  };
  for (const c of from) push(c);
  while (length > 0) {
    const c = queue[--length];
    if (gx[c] > 0) push(c + 1);
    if (gx[c - 1] > 0) push(c - 1);
    if (gy[c] > 0) push(c + nx);
    if (gy[c - nx] > 0) push(c - nx);
    if (gz[c] > 0) push(c + plane);
    if (gz[c - plane] > 0) push(c - plane);
  }
  for (let c = plane; c < size - plane; c++) {
    if (reached[c]) continue;
    if (isOpen(grid, c)) grid.cutOff[c] = 1;
  }
  for (let c = plane; c < size - plane; c++) {
    if (reached[c]) continue;
    gx[c] = 0;
    gy[c] = 0;
    gz[c] = 0;
  }
}
