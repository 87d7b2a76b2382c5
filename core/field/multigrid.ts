import type { CellSystem } from './cell-system.ts';
import { buildLevels, type GridLines, type Level } from './grid-levels.ts';

/**
 * One V-cycle of geometric multigrid as preconditioner for the linearised bath.
 *
 * Coarsening merges neighbouring intervals of each axis only while the merged one stays under the level's target size.
 * On a graded grid this coarsens a cell first along its short sides, where the coupling is strong, and leaves large
 * cells alone until the rest has caught up: a point smoother is then enough. Coarse conductances are the sum of the fine
 * openings over the coarse distance. Interpolation is linear from the parent and the next coarse cell along each axis, the
 * latter's share cut down as far as the face between them is closed; restriction is the transpose.
 *
 * Tried, with the linear iterations of a whole nonlinear solution to 1e-6 on 253 704 cells stretched up to 54 : 1 (a ball
 * of 8 mm in a 36-litre tank): this, 10; every axis halved on every level, 210; constant interpolation, 15; fine openings
 * over the fine distance instead of the coarse one, not solved in 200. Full linear shares wherever a face is open at all
 * diverge: a coarse cell that hangs on by a sliver is handed residual its small diagonal can't carry.
 *
 * Smoother: one forward Gauss-Seidel sweep down, one backward sweep up, so the cycle is symmetric and fit for conjugate
 * gradients. The metal the parts hang on is one more unknown on every level, swept last going down and first going up.
 * The coarsest level is solved directly. Everything here is float32: a preconditioner needs no more, and the loops are
 * bound by memory.
 */
export interface Multigrid {
  readonly levels: readonly Level[];
  /** For each patch, the place of its cell in the finest level's list. */
  readonly anodeSlot: Int32Array;
  readonly cathodeSlot: Int32Array;
  coarseFactor: Float64Array;
  readonly coarseCells: Int32Array;
}

/** Builds the levels; surface conductances are set by updateSurfaces. */
export function buildMultigrid(system: CellSystem, lines: GridLines): Multigrid {
  const { levels, anodeSlot, cathodeSlot } = buildLevels(system, lines);
  const last = levels[levels.length - 1];
  const coarseCells: number[] = [];
  for (let c = last.plane; c < last.size - last.plane; c++) coarseCells.push(c);
  return {
    levels,
    anodeSlot,
    cathodeSlot,
    coarseFactor: new Float64Array(0),
    coarseCells: Int32Array.from(coarseCells),
  };
}

/** Bytes buildMultigrid takes, from the grid alone; the coarse levels together are under half of the finest. */
export function multigridBytes(cells: number): number {
  return cells * 4 * 3 + cells * 0.5 * 4 * 6;
}

/** Takes the patches' conductances (S) to all levels and factors the coarsest. */
export function updateSurfaces(mg: Multigrid, anodeSlope: Float64Array, cathodeSlope: Float64Array): void {
  const finest = mg.levels[0];
  gather(finest.anodeWeight, anodeSlope, mg.anodeSlot);
  gather(finest.cathodeWeight, cathodeSlope, mg.cathodeSlot);
  for (let l = 0; l < mg.levels.length; l++) {
    const level = mg.levels[l];
    setDiagonals(level);
    if (level.down) {
      gather(mg.levels[l + 1].anodeWeight, level.anodeWeight, level.down.anodeParent);
      gather(mg.levels[l + 1].cathodeWeight, level.cathodeWeight, level.down.cathodeParent);
    }
  }
  factorCoarsest(mg);
}

/** z = M⁻¹·r for vectors with the metal last. */
export function preconditionInto(z: Float64Array, mg: Multigrid, r: Float64Array): void {
  const finest = mg.levels[0];
  const { size, x, b } = finest;
  // Scaled so that float32 never gets near its smallest numbers.
  let most = Math.abs(r[size]);
  for (let c = 0; c < size; c++) {
    const magnitude = Math.abs(r[c]);
    if (magnitude > most) most = magnitude;
  }
  if (most === 0) {
    z.fill(0);
    return;
  }
  const scale = 1 / most;
  for (let c = 0; c < size; c++) b[c] = r[c] * scale;
  finest.metalB = r[size] * scale;
  cycle(mg, 0);
  for (let c = 0; c < size; c++) z[c] = x[c] * most;
  z[size] = finest.metalX * most;
}

function cycle(mg: Multigrid, l: number): void {
  const level = mg.levels[l];
  if (!level.down) {
    solveCoarsest(mg, level);
    return;
  }
  const coarse = mg.levels[l + 1];
  sweepUpFromZero(level);
  restrictResidual(level, coarse);
  cycle(mg, l + 1);
  prolongAndAdd(level, coarse);
  sweepDown(level);
}

/** Forward Gauss-Seidel from zero; then the metal's own equation. */
function sweepUpFromZero(level: Level): void {
  const { plane, nx, size, gx, gy, gz, inverseDiagonal, x, b } = level;
  x.fill(0);
  const end = size - plane;
  for (let c = plane; c < end; c++) {
    x[c] =
      (b[c] + gx[c - 1] * x[c - 1] + gy[c - nx] * x[c - nx] + gz[c - plane] * x[c - plane]) *
      inverseDiagonal[c];
  }
  solveMetal(level);
}

/** The metal's own equation: what the cells send it, it sends back. */
function solveMetal(level: Level): void {
  const { x, anodeCell, anodeWeight } = level;
  let flow = level.metalB;
  let weight = 0;
  for (let a = 0; a < anodeCell.length; a++) {
    flow += anodeWeight[a] * x[anodeCell[a]];
    weight += anodeWeight[a];
  }
  level.metalX = weight > 0 ? flow / weight : 0;
}

/**
 * Residual after sweepUpFromZero, taken to the coarse right-hand side. A forward sweep from zero leaves at each cell
 * exactly what its later neighbours send, so only those are read.
 */
function restrictResidual(level: Level, coarse: Level): void {
  coarse.b.fill(0);
  betweenGrids(level, coarse, true);
  restrictMetal(level, coarse);
  coarse.metalB = 0;
}

function prolongAndAdd(level: Level, coarse: Level): void {
  betweenGrids(level, coarse, false);
  level.metalX += coarse.metalX;
}

/**
 * Both ways of the interpolation, the one the other's transpose: `down` hands each cell's residual to its parent and the parent's
 * neighbours, else each cell takes the coarse correction from these. One loop with the branch inside is as fast as two.
 */
function betweenGrids(level: Level, coarse: Level, down: boolean): void {
  const { nx, ny, nz, plane, gx, gy, gz, x } = level;
  const t = level.down!;
  const into = coarse.b;
  const e = coarse.x;
  const cnx = coarse.nx;
  const cplane = coarse.plane;
  const cgx = coarse.gx;
  const cgy = coarse.gy;
  const cgz = coarse.gz;
  const { parent: px, side: sx, shareTimesDistanceM: wx, perSize: perX } = t.x;
  for (let k = 0; k < nz; k++) {
    const sideZ = t.z.side[k] * cplane;
    const faceZ = sideZ < 0 ? -cplane : 0;
    const perZ = t.z.perSize[k] / t.kappa;
    const shareZ = t.z.shareTimesDistanceM[k] / t.kappa;
    const planeStart = cplane + t.z.parent[k] * cplane;
    for (let j = 0; j < ny; j++) {
      const sideY = t.y.side[j] * cnx;
      const faceY = sideY < 0 ? -cnx : 0;
      const openX = t.y.perSize[j] * perZ;
      const openY = t.y.shareTimesDistanceM[j] * perZ;
      const openZ = t.y.perSize[j] * shareZ;
      const rowStart = planeStart + t.y.parent[j] * cnx;
      let c = plane + nx * (j + ny * k);
      for (let i = 0; i < nx; i++, c++) {
        const r = down ? gx[c] * x[c + 1] + gy[c] * x[c + nx] + gz[c] * x[c + plane] : 0;
        if (down && r === 0) continue;
        const p = rowStart + px[i];
        const side = sx[i];
        const ax = cgx[side < 0 ? p - 1 : p] * wx[i] * openX;
        const ay = cgy[p + faceY] * perX[i] * openY;
        const az = cgz[p + faceZ] * perX[i] * openZ;
        const own = 1 - ax - ay - az;
        if (down) {
          into[p] += own * r;
          into[p + side] += ax * r;
          into[p + sideY] += ay * r;
          into[p + sideZ] += az * r;
        } else x[c] += own * e[p] + ax * e[p + side] + ay * e[p + sideY] + az * e[p + sideZ];
      }
    }
  }
}

/** What the metal sends at its new potential, taken to the coarse right-hand side. */
function restrictMetal(level: Level, coarse: Level): void {
  const { nx, ny, plane } = level;
  const t = level.down!;
  const { b: into, nx: cnx, plane: cplane, gx: cgx, gy: cgy, gz: cgz } = coarse;
  const { side: sx, shareTimesDistanceM: wx, perSize: perX } = t.x;
  for (let a = 0; a < level.anodeCell.length; a++) {
    const at = level.anodeCell[a] - plane;
    const i = at % nx;
    const j = ((at - i) / nx) % ny;
    const k = (at - i - nx * j) / plane;
    const r = level.anodeWeight[a] * level.metalX;
    const p = cplane + t.x.parent[i] + cnx * t.y.parent[j] + cplane * t.z.parent[k];
    const sideY = t.y.side[j] * cnx;
    const sideZ = t.z.side[k] * cplane;
    const perY = t.y.perSize[j];
    const perZ = t.z.perSize[k];
    const ax = (cgx[sx[i] < 0 ? p - 1 : p] * wx[i] * perY * perZ) / t.kappa;
    const ay = (cgy[sideY < 0 ? p - cnx : p] * perX[i] * t.y.shareTimesDistanceM[j] * perZ) / t.kappa;
    const az = (cgz[sideZ < 0 ? p - cplane : p] * perX[i] * perY * t.z.shareTimesDistanceM[k]) / t.kappa;
    into[p] += (1 - ax - ay - az) * r;
    into[p + sx[i]] += ax * r;
    into[p + sideY] += ay * r;
    into[p + sideZ] += az * r;
  }
}

/** The metal's own equation, then backward Gauss-Seidel. */
function sweepDown(level: Level): void {
  const { plane, nx, size, gx, gy, gz, inverseDiagonal, x, b, anodeCell, anodeWeight } = level;
  solveMetal(level);
  for (let a = 0; a < anodeCell.length; a++) b[anodeCell[a]] += anodeWeight[a] * level.metalX;
  for (let c = size - plane - 1; c >= plane; c--) {
    x[c] =
      (b[c] +
        gx[c - 1] * x[c - 1] +
        gx[c] * x[c + 1] +
        gy[c - nx] * x[c - nx] +
        gy[c] * x[c + nx] +
        gz[c - plane] * x[c - plane] +
        gz[c] * x[c + plane]) *
      inverseDiagonal[c];
  }
}

function setDiagonals(level: Level): void {
  const { gx, gy, gz, nx, plane, size, inverseDiagonal } = level;
  const at = (c: number) => gx[c - 1] + gx[c] + gy[c - nx] + gy[c] + gz[c - plane] + gz[c];
  const end = size - plane;
  for (let c = plane; c < end; c++) {
    const diagonal = at(c);
    inverseDiagonal[c] = diagonal > 0 ? 1 / diagonal : 0;
  }
  const wall = new Map<number, number>();
  for (let a = 0; a < level.anodeCell.length; a++) wall.set(level.anodeCell[a], level.anodeWeight[a]);
  for (let a = 0; a < level.cathodeCell.length; a++) {
    const c = level.cathodeCell[a];
    wall.set(c, (wall.get(c) ?? 0) + level.cathodeWeight[a]);
  }
  for (const [c, weight] of wall) {
    const diagonal = at(c) + weight;
    inverseDiagonal[c] = diagonal > 0 ? 1 / diagonal : 0;
  }
}

/** Dense Cholesky of the coarsest level, the metal last; cells without any opening get 1 on the diagonal. */
function factorCoarsest(mg: Multigrid): void {
  const level = mg.levels[mg.levels.length - 1];
  const { gx, gy, gz, nx, plane } = level;
  const first = plane;
  const count = mg.coarseCells.length;
  const n = count + 1;
  const a = new Float64Array(n * n);
  const join = (p: number, q: number, g: number) => {
    if (!(g > 0)) return;
    a[p * n + p] += g;
    a[q * n + q] += g;
    a[Math.max(p, q) * n + Math.min(p, q)] -= g;
  };
  for (let p = 0; p < count; p++) {
    const c = first + p;
    join(p, p + 1, gx[c]);
    join(p, p + nx, gy[c]);
    join(p, p + plane, gz[c]);
  }
  for (let s = 0; s < level.anodeCell.length; s++)
    join(level.anodeCell[s] - first, count, level.anodeWeight[s]);
  for (let s = 0; s < level.cathodeCell.length; s++) {
    const p = level.cathodeCell[s] - first;
    a[p * n + p] += level.cathodeWeight[s];
  }
  let largest = 0;
  for (let p = 0; p < n; p++) largest = Math.max(largest, a[p * n + p]);
  for (let p = 0; p < n; p++) {
    if (a[p * n + p] === 0) a[p * n + p] = largest || 1;
    for (let q = 0; q <= p; q++) {
      let sum = a[p * n + q];
      for (let m = 0; m < q; m++) sum -= a[p * n + m] * a[q * n + m];
      if (p === q) a[p * n + p] = Math.sqrt(Math.max(sum, 1e-13 * largest));
      else a[p * n + q] = sum / a[q * n + q];
    }
  }
  mg.coarseFactor = a;
}

function solveCoarsest(mg: Multigrid, level: Level): void {
  const count = mg.coarseCells.length;
  const n = count + 1;
  const a = mg.coarseFactor;
  const y = new Float64Array(n);
  for (let p = 0; p < n; p++) {
    let sum = p < count ? level.b[level.plane + p] : level.metalB;
    for (let m = 0; m < p; m++) sum -= a[p * n + m] * y[m];
    y[p] = sum / a[p * n + p];
  }
  for (let p = n - 1; p >= 0; p--) {
    let sum = y[p];
    for (let m = p + 1; m < n; m++) sum -= a[m * n + p] * y[m];
    y[p] = sum / a[p * n + p];
  }
  for (let p = 0; p < count; p++) level.x[level.plane + p] = y[p];
  level.metalX = y[count];
}

function gather(into: Float64Array, from: Float64Array, place: Int32Array): void {
  into.fill(0);
  for (let p = 0; p < from.length; p++) into[place[p]] += from[p];
}
