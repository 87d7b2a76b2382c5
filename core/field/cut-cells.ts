import type { Bath, FieldBody, WallCathode } from './bath-bodies.ts';
import type { CellSystem, SurfacePatches } from './cell-system.ts';
import { leastSlope, type ElectrodeLaw } from './electrode-law.ts';
import { cellAt } from './graded-axis.ts';
import type { GridLines } from './multigrid.ts';
import { openingsOfPlanes } from './plane-openings.ts';
import { cutTriangles } from './surface-pieces.ts';

/**
 * From triangles to the discrete bath: finite volumes cut by the true surface.
 *
 * Each cell that holds liquid carries one potential, at the middle of the whole cell even where that lies behind the
 * surface. Between two cells flows κ · (open area of their common face) · Δφ / distance of the middles; open areas and
 * the surface in each cell are exact, from the triangles. A surface of layer voltage U(j) passes its true area times the
 * density j that solves U(j) + (d/κ)·j = φ_metal − φ_cell, d being the distance of the middle from the surface along its
 * normal, negative behind it: the flux is taken where the surface is, not where the grid is, which is what makes the
 * scheme second order (the symmetric cut-cell form of Ng, Min and Gibou, J. Comput. Phys. 228 (2009) 8807, with the
 * Robin term of Bochkov and Gibou, J. Comput. Phys. 376 (2019) 1156).
 *
 * Why this one. Stairs of whole cells are first order at best and count up to half as much area again on a slope. Flux
 * interpolation to the faces' centroids (Johansen and Colella) is second order too, but its matrix is not symmetric,
 * needs a neighbourhood at every cut cell and breaks in narrow bores; here the matrix stays a network of conductances:
 * symmetric, charge conserved to rounding, seven points, fit for conjugate gradients. Cut finite elements are as good
 * but take 27 points.
 *
 * Where the surface layer is so thin that a middle behind the surface would give a negative resistance (only in reference
 * problems without kinetics), the patch is handed to the next cell along its normal.
 */
export interface CutBath {
  readonly system: CellSystem;
  readonly lines: GridLines;
  /** Names and patches' owners: bodies first, wall cathodes after them. */
  readonly owners: readonly string[];
  readonly anodeOwner: Int32Array;
  readonly cathodeOwner: Int32Array;
  readonly pieces: CutPieces;
  /** Largest unclosed height met, as a share of a row: 0 for closed bodies. */
  readonly leak: number;
}

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

/** A middle nearer to the surface than this share of the cell's smallest side is moved off it. */
const LEAST_SHARE = 0.15;
const NO_CELL = -1;

export function cutBath(bath: Bath, lines: GridLines): CutBath {
  const axes = [lines.x, lines.y, lines.z] as const;
  const nx = axes[0].length - 1;
  const ny = axes[1].length - 1;
  const nz = axes[2].length - 1;
  const plane = nx * ny;
  const size = plane * (nz + 2);
  const kappa = bath.conductivitySPerM;
  if (!(kappa > 0)) throw new RangeError(`cutBath: conductivitySPerM is ${kappa}`);
  const joined = joinBodies(bath.bodies);
  const g = { x: new Float32Array(size), y: new Float32Array(size), z: new Float32Array(size) };
  const leak = fillConductances(g, joined.triangles, axes, joined.vessels, kappa);
  const grid: Grid = { nx, ny, nz, plane, size, axes, gx: g.x, gy: g.y, gz: g.z, kappa };
  const pieces = conductingPieces(bath.bodies, joined, axes);
  const laws: ElectrodeLaw[] = [];
  const lawOfBody = bath.bodies.map((body) => (body.law ? laws.push(body.law) - 1 : NO_CELL));
  const cathodes = new PatchCollector();
  const anodes = new PatchCollector();
  collectPieces(cathodes, 'cathode', bath.bodies, pieces, grid, lawOfBody);
  bath.wallCathodes.forEach((sheet, n) => {
    const law = laws.push(sheet.law) - 1;
    collectSheet(cathodes, sheet, bath.bodies.length + n, grid, law);
  });
  closeUnreached(grid, cathodes.cells);
  collectPieces(anodes, 'anode', bath.bodies, pieces, grid, lawOfBody);
  return {
    system: {
      conductivitySPerM: kappa,
      nx,
      ny,
      nz,
      plane,
      size,
      gx: grid.gx,
      gy: grid.gy,
      gz: grid.gz,
      anodes: anodes.patches(kappa),
      cathodes: cathodes.patches(kappa),
      laws,
    },
    lines,
    owners: [...bath.bodies.map((body) => body.name), ...bath.wallCathodes.map((sheet) => sheet.name)],
    anodeOwner: Int32Array.from(anodes.owners),
    cathodeOwner: Int32Array.from(cathodes.owners),
    pieces,
    leak,
  };
}

interface Grid {
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
}

/** All bodies' triangles, a vessel's turned round so that every normal points into the liquid. */
function joinBodies(bodies: readonly FieldBody[]) {
  const first: number[] = [];
  let total = 0;
  let vessels = 0;
  for (const body of bodies) {
    if (body.positionsM.length % 9 !== 0) {
      throw new RangeError(
        `cutBath: positionsM of ${body.name} has ${body.positionsM.length} numbers, not nine a triangle`,
      );
    }
    if (body.role !== 'insulator' && !body.law) throw new RangeError(`cutBath: ${body.name} has no law`);
    first.push(total);
    total += body.positionsM.length / 9;
    if (body.holdsBath) vessels++;
  }
  const triangles = new Float64Array(total * 9);
  bodies.forEach((body, b) => {
    const to = first[b] * 9;
    triangles.set(body.positionsM, to);
    if (!body.holdsBath) return;
    for (let t = to; t < to + body.positionsM.length; t += 9) {
      for (let n = 0; n < 3; n++) {
        const x = triangles[t + 3 + n];
        triangles[t + 3 + n] = triangles[t + 6 + n];
        triangles[t + 6 + n] = x;
      }
    }
  });
  return { triangles, first, vessels };
}

function fillConductances(
  g: { x: Float32Array; y: Float32Array; z: Float32Array },
  triangles: Float64Array,
  axes: Grid['axes'],
  vessels: number,
  kappa: number,
): number {
  const [lx, ly, lz] = axes;
  const nx = lx.length - 1;
  const ny = ly.length - 1;
  const nz = lz.length - 1;
  const plane = nx * ny;
  const dx = sizes(lx);
  const dy = sizes(ly);
  const dz = sizes(lz);
  const apart = (lines: Float64Array, p: number) => (lines[p + 1] - lines[p - 1]) / 2;
  const leakX = openingsOfPlanes(triangles, 0, axes, vessels, {
    onPlane: (p, open) => {
      const per = kappa / apart(lx, p);
      for (let k = 0; k < nz; k++) {
        for (let j = 0; j < ny; j++) {
          g.x[plane + p - 1 + nx * (j + ny * k)] = per * open[k * ny + j] * dy[j] * dz[k];
        }
      }
    },
  });
  const leakY = openingsOfPlanes(triangles, 1, axes, vessels, {
    onPlane: (p, open) => {
      const per = kappa / apart(ly, p);
      for (let k = 0; k < nz; k++) {
        const row = plane + nx * (p - 1 + ny * k);
        for (let i = 0; i < nx; i++) g.y[row + i] = per * open[i * nz + k] * dz[k] * dx[i];
      }
    },
  });
  const leakZ = openingsOfPlanes(triangles, 2, axes, vessels, {
    onPlane: (p, open) => {
      const per = kappa / apart(lz, p);
      for (let j = 0; j < ny; j++) {
        const row = plane + nx * (j + ny * (p - 1));
        for (let i = 0; i < nx; i++) g.z[row + i] = per * open[j * nx + i] * dx[i] * dy[j];
      }
    },
  });
  return Math.max(leakX, leakY, leakZ);
}

function sizes(lines: Float64Array): Float64Array {
  return Float64Array.from({ length: lines.length - 1 }, (_, i) => lines[i + 1] - lines[i]);
}

function conductingPieces(
  bodies: readonly FieldBody[],
  joined: { triangles: Float64Array; first: readonly number[] },
  axes: Grid['axes'],
): CutPieces {
  const total = joined.triangles.length / 9;
  const bodyOf = new Int32Array(total);
  bodies.forEach((body, b) => {
    bodyOf.fill(b, joined.first[b], joined.first[b] + body.positionsM.length / 9);
  });
  const all = cutTriangles(
    joined.triangles,
    (t) => {
      const body = bodies[bodyOf[t]];
      return body.role !== 'insulator' && body.insulated?.[t - joined.first[bodyOf[t]]] !== 1;
    },
    axes,
  );
  const kept: number[] = [];
  for (let p = 0; p < all.count; p++) {
    const spots = bodies[bodyOf[all.triangle[p]]].spots;
    if (!spots?.some((spot) => distanceSquared(all.centroidM, p * 3, spot.atM) < spot.radiusM ** 2))
      kept.push(p);
  }
  const count = kept.length;
  const pieces = {
    count,
    body: new Int32Array(count),
    triangle: new Int32Array(count),
    patch: new Int32Array(count).fill(NO_CELL),
    areaM2: new Float64Array(count),
    centroidM: new Float64Array(count * 3),
    normal: new Float32Array(count * 3),
  };
  const normal = [0, 0, 0];
  for (let n = 0; n < count; n++) {
    const p = kept[n];
    const t = all.triangle[p];
    const body = bodyOf[t];
    pieces.body[n] = body;
    pieces.triangle[n] = t - joined.first[body];
    pieces.areaM2[n] = all.areaM2[p];
    unitNormal(normal, joined.triangles, t * 9);
    for (let m = 0; m < 3; m++) {
      pieces.centroidM[n * 3 + m] = all.centroidM[p * 3 + m];
      pieces.normal[n * 3 + m] = normal[m];
    }
  }
  return pieces;
}

function distanceSquared(points: Float64Array, o: number, at: readonly [number, number, number]): number {
  return (points[o] - at[0]) ** 2 + (points[o + 1] - at[1]) ** 2 + (points[o + 2] - at[2]) ** 2;
}

function unitNormal(out: number[], triangles: Float64Array, o: number): void {
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
  out[0] = x / length;
  out[1] = y / length;
  out[2] = z / length;
}

/** Patches under construction: pieces of one owner in one cell that face the same way become one. */
class PatchCollector {
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

function collectPieces(
  into: PatchCollector,
  role: 'anode' | 'cathode',
  bodies: readonly FieldBody[],
  pieces: CutPieces,
  grid: Grid,
  lawOfBody: readonly number[],
): void {
  const slopes = bodies.map((body) => (body.law ? leastSlope(body.law) : 0));
  const host = { cell: 0, distanceM: 0 };
  for (let p = 0; p < pieces.count; p++) {
    const body = pieces.body[p];
    if (bodies[body].role !== role) continue;
    if (!findHost(host, grid, pieces.centroidM, pieces.normal, p * 3, slopes[body])) continue;
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
  grid: Grid,
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
  const cellOf = () => plane + at[0] + nx * (at[1] + ny * at[2]);
  const distance = () => {
    let d = 0;
    for (let n = 0; n < 3; n++) {
      d += ((axes[n][at[n]] + axes[n][at[n] + 1]) / 2 - centroid[o + n]) * normal[o + n];
    }
    return d;
  };
  const own = cellOf();
  const ownOpen = isOpen(grid, own);
  const ownDistance = distance();
  if (ownOpen && ownDistance >= leastM) {
    out.cell = own;
    out.distanceM = ownDistance;
    return true;
  }
  const order = [0, 1, 2].sort((a, b) => Math.abs(normal[o + b]) - Math.abs(normal[o + a]));
  for (const n of order) {
    if (Math.abs(normal[o + n]) < 0.3) break;
    const step = normal[o + n] > 0 ? 1 : -1;
    if (at[n] + step < 0 || at[n] + step >= counts[n]) continue;
    at[n] += step;
    const cell = cellOf();
    const d = distance();
    if (isOpen(grid, cell) && d >= leastM) {
      out.cell = cell;
      out.distanceM = d;
      return true;
    }
    at[n] -= step;
  }
  if (!ownOpen) return false;
  out.cell = own;
  out.distanceM = Math.max(ownDistance, leastM);
  return true;
}

function isOpen({ gx, gy, gz, nx, plane }: Grid, c: number): boolean {
  return gx[c - 1] > 0 || gx[c] > 0 || gy[c - nx] > 0 || gy[c] > 0 || gz[c - plane] > 0 || gz[c] > 0;
}

/** A sheet on a side of the box: whole and part faces of the cells along it, where there is liquid. */
function collectSheet(
  into: PatchCollector,
  sheet: WallCathode,
  owner: number,
  grid: Grid,
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
function closeUnreached(grid: Grid, from: readonly number[]): void {
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
    gx[c] = 0;
    gy[c] = 0;
    gz[c] = 0;
  }
}
