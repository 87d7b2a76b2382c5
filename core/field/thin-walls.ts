import type { SurfaceCut } from './conducting-pieces.ts';
import { nearestOnTriangle } from './nearest-on-triangle.ts';
import type { CutGrid } from './surface-patches.ts';

/**
 * Walls thinner than a cell. Where both faces of a sheet or tube pass through one cell, the liquid on either side would
 * share that cell's one potential, and current would pass through the metal: since the film holds back far more than the
 * liquid, an opening of a thousandth of a cell is enough to spoil a bore. Such a cell is given to the side its middle lies on:
 * links to neighbours on the other side are cut, and the other face's surface goes to the neighbour on its own side,
 * at its true distance. The wall is tight again; the liquid the cell holds on its far side is lost to that side, an error
 * of first order in the spacing, in that one layer only.
 *
 * Sides are told apart by the surface in the cell, in clusters of like normals. Two clusters that look away from each other
 * with metal between are on two sides; two that see each other across liquid, or look the same way, are on one. Points spread over
 * the face between two cells decide whether they are linked: each is in the liquid if the nearest triangle faces it, and on that
 * triangle's side. Where a face shows both sides or none, the side of the neighbour's own liquid decides, by the nearest
 * cluster that faces it. This holds at the corners of square tubes too, where one plane does not tell inside from outside.
 */
export interface WallCell {
  readonly clusters: readonly Cluster[];
  /** Side (1 or −1) the cell was given to. */
  readonly own: number;
  /** Side a place lies on. */
  readonly sideAt: (at: readonly number[]) => number;
}

interface Cluster {
  readonly key: number;
  areaM2: number;
  /** Area-weighted sums until finished, then means: the normal of unit length, the centroid in m. */
  readonly normal: [number, number, number];
  readonly centroidM: [number, number, number];
  side: number;
}

const OPPOSED = -0.5;
const ALIKE = 0.7;
/** A point off the surface by this share of the cell stands for the liquid in front of it. */
const OFF_SHARE = 0.02;
const FACE_SHARES = [0.04, 0.5, 0.96];

/** Finds thin walls in the cut surface and shuts the links through them. Changes the grid's conductances. */
export function shutThinWalls(grid: CutGrid, surface: SurfaceCut): Map<number, WallCell> {
  const head = new Map<number, number>();
  const next = new Int32Array(surface.count).fill(-1);
  for (let p = 0; p < surface.count; p++) {
    next[p] = head.get(surface.cell[p]) ?? -1;
    head.set(surface.cell[p], p);
  }
  const walls = new Map<number, SidedWall>();
  for (const [cell, first] of head) {
    if (next[first] < 0) continue;
    const clusters = clustersOf(surface, first, next);
    if (!tellSides(clusters)) continue;
    const sided = sidedTriangles(surface, clusters, first, next);
    const sideAt = (at: readonly number[]) => {
      const { side, fallback } = sideOf(clusters, at);
      return side === 0 ? fallback : side;
    };
    walls.set(cell, { clusters, sided, sideAt, own: sideAt(middleOf(grid, cell)) });
  }
  for (const [cell, wall] of walls) cutLinks(grid, surface, cell, wall, walls, head, next);
  return walls;
}

interface SidedWall extends WallCell {
  readonly sided: readonly SidedTriangle[];
}

/** One triangle that passes through a wall cell, with its side. */
interface SidedTriangle {
  readonly first: number;
  readonly normal: readonly [number, number, number];
  readonly side: number;
}

/** Side of the nearest cluster that faces a place, 0 when none does; `fallback` is that of the one it is least behind. */
function sideOf(clusters: readonly Cluster[], at: readonly number[]): { side: number; fallback: number } {
  let nearestSquared = Infinity;
  let side = 0;
  let closest = -Infinity;
  let fallback = clusters[0].side;
  for (const { normal, centroidM, side: clusterSide } of clusters) {
    const [x, y, z] = [at[0] - centroidM[0], at[1] - centroidM[1], at[2] - centroidM[2]];
    const ahead = x * normal[0] + y * normal[1] + z * normal[2];
    const squared = x * x + y * y + z * z;
    if (ahead > 0 && squared < nearestSquared) {
      nearestSquared = squared;
      side = clusterSide;
    }
    if (ahead > closest) {
      closest = ahead;
      fallback = clusterSide;
    }
  }
  return { side, fallback };
}

/** The side of the triangle nearest to a place, and whether the place is in front of it; of two as near, the one it faces more. */
function nearest(
  triangles: Float64Array,
  sided: readonly SidedTriangle[],
  at: readonly number[],
): { side: number; inFront: boolean } {
  let least = Infinity;
  let steepest = 0;
  let side = sided[0].side;
  let inFront = false;
  for (const { first, normal, side: own } of sided) {
    const near = nearestOnTriangle(triangles, first, at);
    const [x, y, z] = [at[0] - near[0], at[1] - near[1], at[2] - near[2]];
    const squared = x * x + y * y + z * z;
    const ahead = x * normal[0] + y * normal[1] + z * normal[2];
    const steep = squared > 0 ? Math.abs(ahead) / Math.sqrt(squared) : 1;
    if (squared > least * (1 + 1e-9) || (squared > least * (1 - 1e-9) && steep <= steepest)) continue;
    least = squared;
    steepest = steep;
    side = own;
    inFront = ahead > 0;
  }
  return { side, inFront };
}

function clustersOf(surface: SurfaceCut, first: number, next: Int32Array): Cluster[] {
  const found = new Map<number, Cluster>();
  for (let p = first; p >= 0; p = next[p]) {
    const o = p * 3;
    const [x, y, z] = [surface.normal[o], surface.normal[o + 1], surface.normal[o + 2]];
    const key = directionKey(x, y, z);
    let cluster = found.get(key);
    if (!cluster) {
      cluster = { key, areaM2: 0, normal: [0, 0, 0], centroidM: [0, 0, 0], side: 0 };
      found.set(key, cluster);
    }
    const area = surface.areaM2[p];
    cluster.areaM2 += area;
    for (let n = 0; n < 3; n++) {
      cluster.normal[n] += area * surface.normal[o + n];
      cluster.centroidM[n] += area * surface.centroidM[o + n];
    }
  }
  const clusters = [...found.values()];
  for (const { areaM2, normal, centroidM } of clusters) {
    const length = Math.hypot(...normal);
    for (let n = 0; n < 3; n++) {
      normal[n] /= length;
      centroidM[n] /= areaM2;
    }
  }
  return clusters;
}

/** Like normals share a key. */
function directionKey(x: number, y: number, z: number): number {
  return Math.round(1.5 * x) + 2 + 5 * (Math.round(1.5 * y) + 2) + 25 * (Math.round(1.5 * z) + 2);
}

/** The triangles of a cell's pieces, each with the side of the cluster its normal belongs to. */
function sidedTriangles(
  surface: SurfaceCut,
  clusters: readonly Cluster[],
  first: number,
  next: Int32Array,
): SidedTriangle[] {
  const found = new Map<number, SidedTriangle>();
  for (let p = first; p >= 0; p = next[p]) {
    const t = surface.triangle[p];
    if (found.has(t)) continue;
    const normal = [surface.normal[p * 3], surface.normal[p * 3 + 1], surface.normal[p * 3 + 2]] as const;
    const key = directionKey(...normal);
    const cluster = clusters.find((candidate) => candidate.key === key)!;
    found.set(t, { first: t * 9, normal, side: cluster.side });
  }
  return [...found.values()];
}

/** Gives every cluster its side; false when there is no wall among them. */
function tellSides(clusters: readonly Cluster[]): boolean {
  let start: Cluster | undefined;
  for (const a of clusters) {
    for (const b of clusters) {
      if (relation(a, b) === -1 && (!start || a.areaM2 > start.areaM2)) start = a;
    }
  }
  if (!start) return false;
  start.side = 1;
  const queue = [start];
  for (const a of queue) {
    for (const b of clusters) {
      if (b.side !== 0) continue;
      const how = relation(a, b);
      if (how === 0) continue;
      b.side = how * a.side;
      queue.push(b);
    }
  }
  for (const lost of clusters) {
    if (lost.side !== 0) continue;
    const like = queue.reduce((x, y) => (along(y, lost) > along(x, lost) ? y : x));
    lost.side = like.side;
  }
  return true;
}

function along(a: Cluster, b: Cluster): number {
  return a.normal[0] * b.normal[0] + a.normal[1] * b.normal[1] + a.normal[2] * b.normal[2];
}

/** 1 on the same side, −1 with metal between, 0 not to be told. */
function relation(a: Cluster, b: Cluster): number {
  if (a === b) return 0;
  const d = [0, 1, 2].map((n) => b.centroidM[n] - a.centroidM[n]);
  const bBeforeA = d[0] * a.normal[0] + d[1] * a.normal[1] + d[2] * a.normal[2];
  const aBeforeB = -(d[0] * b.normal[0] + d[1] * b.normal[1] + d[2] * b.normal[2]);
  const way = along(a, b);
  if (way < OPPOSED && bBeforeA < 0 && aBeforeB < 0) return -1;
  if (way > ALIKE || (bBeforeA > 0 && aBeforeB > 0)) return 1;
  return 0;
}

/** `cell` counts from 0, without the empty plane. */
function placeOf({ nx, ny }: CutGrid, cell: number): [number, number, number] {
  return [cell % nx, Math.floor(cell / nx) % ny, Math.floor(cell / (nx * ny))];
}

function middleOf(grid: CutGrid, cell: number): number[] {
  return placeOf(grid, cell).map((i, n) => (grid.axes[n][i] + grid.axes[n][i + 1]) / 2);
}

function cutLinks(
  grid: CutGrid,
  surface: SurfaceCut,
  cell: number,
  wall: SidedWall,
  walls: ReadonlyMap<number, WallCell>,
  head: ReadonlyMap<number, number>,
  next: Int32Array,
): void {
  const { gx, gy, gz, nx, plane, axes } = grid;
  const at = placeOf(grid, cell);
  const c = cell + plane;
  [gx, gy, gz].forEach((g, n) => {
    const stride = [1, nx, plane][n];
    for (const step of [-1, 1]) {
      if (at[n] + step < 0 || at[n] + step >= axes[n].length - 1) continue;
      const link = step > 0 ? c : c - stride;
      if (g[link] === 0) continue;
      const { own, other } = sidesOfFace(grid, surface.triangles, wall, at, n, step);
      let side = own > 0 ? wall.own : -wall.own;
      if (own > 0 === other > 0) {
        const there = liquidPoint(grid, surface, cell + step * stride, walls, head, next);
        side = sideOf(wall.clusters, there).side || (own > other ? wall.own : -wall.own);
      }
      if (side !== wall.own) g[link] = 0;
    }
  });
}

/** How many of the points spread over a face of a cell are in liquid on the cell's own side, and how many on the other. */
function sidesOfFace(
  grid: CutGrid,
  triangles: Float64Array,
  wall: SidedWall,
  at: readonly number[],
  axis: number,
  step: number,
): { own: number; other: number } {
  const votes = { own: 0, other: 0 };
  const [u, v] = [(axis + 1) % 3, (axis + 2) % 3];
  const point = [0, 0, 0];
  point[axis] = grid.axes[axis][at[axis] + (step > 0 ? 1 : 0)];
  const on = (n: number, share: number) =>
    grid.axes[n][at[n]] + share * (grid.axes[n][at[n] + 1] - grid.axes[n][at[n]]);
  for (const a of FACE_SHARES) {
    point[u] = on(u, a);
    for (const b of FACE_SHARES) {
      point[v] = on(v, b);
      const { side, inFront } = nearest(triangles, wall.sided, point);
      if (inFront) votes[side === wall.own ? 'own' : 'other']++;
    }
  }
  return votes;
}

/** A point in the liquid a cell stands for. */
function liquidPoint(
  grid: CutGrid,
  surface: SurfaceCut,
  cell: number,
  walls: ReadonlyMap<number, WallCell>,
  head: ReadonlyMap<number, number>,
  next: Int32Array,
): number[] {
  const middle = middleOf(grid, cell);
  const first = head.get(cell);
  if (first === undefined) return middle;
  const [i, j, k] = placeOf(grid, cell);
  const off =
    (OFF_SHARE *
      (grid.axes[0][i + 1] -
        grid.axes[0][i] +
        grid.axes[1][j + 1] -
        grid.axes[1][j] +
        grid.axes[2][k + 1] -
        grid.axes[2][k])) /
    3;
  const wall = walls.get(cell);
  if (wall) {
    const mine = wall.clusters.filter(({ side }) => side === wall.own);
    const { centroidM, normal } = mine.reduce((a, b) => (b.areaM2 > a.areaM2 ? b : a));
    return centroidM.map((x, n) => x + off * normal[n]);
  }
  let largest = first;
  let before = true;
  for (let p = first; p >= 0; p = next[p]) {
    if (surface.areaM2[p] > surface.areaM2[largest]) largest = p;
    let ahead = 0;
    for (let n = 0; n < 3; n++)
      ahead += (middle[n] - surface.centroidM[p * 3 + n]) * surface.normal[p * 3 + n];
    if (ahead < 0) before = false;
  }
  if (before) return middle;
  return middle.map((_, n) => surface.centroidM[largest * 3 + n] + off * surface.normal[largest * 3 + n]);
}
