import type { CellSystem, SurfacePatches } from './cell-system.ts';

export interface GridLines {
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly z: Float64Array;
}

/** One grid of the multigrid, cells placed as in CellSystem. */
export interface Level {
  readonly nx: number;
  readonly ny: number;
  readonly nz: number;
  readonly plane: number;
  readonly size: number;
  readonly gx: Float32Array;
  readonly gy: Float32Array;
  readonly gz: Float32Array;
  readonly inverseDiagonal: Float32Array;
  /** Cells that touch the metal, each once, with their conductance to it. */
  readonly anodeCell: Int32Array;
  readonly anodeWeight: Float64Array;
  /** Cells that touch a cathode. */
  readonly cathodeCell: Int32Array;
  readonly cathodeWeight: Float64Array;
  readonly x: Float32Array;
  readonly b: Float32Array;
  metalX: number;
  metalB: number;
  readonly down: Transfer | undefined;
}

export interface Transfer {
  readonly kappa: number;
  readonly x: AxisTransfer;
  readonly y: AxisTransfer;
  readonly z: AxisTransfer;
  /** For each fine anode or cathode cell, its coarse cell's place in the coarse list. */
  readonly anodeParent: Int32Array;
  readonly cathodeParent: Int32Array;
}

export interface AxisTransfer {
  /** Coarse interval of each fine one. */
  readonly parent: Int32Array;
  /** −1, 0 or 1: on which side of the parent the next nearest coarse interval is. */
  readonly side: Int8Array;
  /** Its share in linear interpolation times the distance to it, m. */
  readonly shareTimesDistanceM: Float64Array;
  /** 1 / size of the parent, 1/m. */
  readonly perSize: Float64Array;
}

const COARSEST_CELLS = 220;
const MERGE_SLACK = 1.25;

/** All grids from the given one to the coarsest, with the place of each patch's cell in the finest one's lists. */
export function buildLevels(system: CellSystem, lines: GridLines) {
  const anodes = distinctCells(system.anodes);
  const cathodes = distinctCells(system.cathodes);
  const levels: Level[] = [];
  let fine: Omit<Level, 'down'> = newLevel(system, anodes.cells, cathodes.cells);
  let fineLines = lines;
  let target = MERGE_SLACK * smallestInterval(lines);
  for (;;) {
    if (fine.nx * fine.ny * fine.nz <= COARSEST_CELLS) break;
    let coarseLines: GridLines = fineLines;
    for (let tries = 0; tries < 64; tries++) {
      target *= 2;
      coarseLines = {
        x: mergeIntervals(fineLines.x, target),
        y: mergeIntervals(fineLines.y, target),
        z: mergeIntervals(fineLines.z, target),
      };
      if (cellCount(coarseLines) <= 0.75 * cellCount(fineLines)) break;
    }
    if (cellCount(coarseLines) >= cellCount(fineLines)) break;
    const transfer = {
      kappa: system.conductivitySPerM,
      x: axisTransfer(fineLines.x, coarseLines.x),
      y: axisTransfer(fineLines.y, coarseLines.y),
      z: axisTransfer(fineLines.z, coarseLines.z),
    };
    const coarse = coarsen(fine, fineLines, coarseLines, transfer);
    levels.push(Object.assign(fine, { down: { ...transfer, ...coarse.parents } }));
    fine = coarse.level;
    fineLines = coarseLines;
  }
  levels.push(Object.assign(fine, { down: undefined }));
  return { levels, anodeSlot: anodes.slot, cathodeSlot: cathodes.slot };
}

function newLevel(
  grid: Pick<Level, 'nx' | 'ny' | 'nz' | 'gx' | 'gy' | 'gz'>,
  anodeCell: Int32Array,
  cathodeCell: Int32Array,
): Omit<Level, 'down'> {
  const plane = grid.nx * grid.ny;
  const size = plane * (grid.nz + 2);
  return {
    nx: grid.nx,
    ny: grid.ny,
    nz: grid.nz,
    gx: grid.gx,
    gy: grid.gy,
    gz: grid.gz,
    plane,
    size,
    inverseDiagonal: new Float32Array(size),
    anodeCell,
    anodeWeight: new Float64Array(anodeCell.length),
    cathodeCell,
    cathodeWeight: new Float64Array(cathodeCell.length),
    x: new Float32Array(size),
    b: new Float32Array(size),
    metalX: 0,
    metalB: 0,
  };
}

function distinctCells(patches: SurfacePatches): { cells: Int32Array; slot: Int32Array } {
  const places = new Map<number, number>();
  const slot = new Int32Array(patches.count);
  for (let p = 0; p < patches.count; p++) {
    let place = places.get(patches.cell[p]);
    if (place === undefined) places.set(patches.cell[p], (place = places.size));
    slot[p] = place;
  }
  return { cells: Int32Array.from(places.keys()), slot };
}

function smallestInterval(lines: GridLines): number {
  let least = Infinity;
  for (const axis of [lines.x, lines.y, lines.z]) {
    for (let i = 0; i + 1 < axis.length; i++) least = Math.min(least, axis[i + 1] - axis[i]);
  }
  return least;
}

function cellCount(lines: GridLines): number {
  return (lines.x.length - 1) * (lines.y.length - 1) * (lines.z.length - 1);
}

function mergeIntervals(lines: Float64Array, target: number): Float64Array {
  const kept = [lines[0]];
  let i = 0;
  while (i < lines.length - 1) {
    const two = i + 2 < lines.length && lines[i + 2] - lines[i] <= target;
    i += two ? 2 : 1;
    kept.push(lines[i]);
  }
  return Float64Array.from(kept);
}

/** Linear interpolation from the middles of the coarse intervals to those of the fine ones. */
export function axisTransfer(fine: Float64Array, coarse: Float64Array): AxisTransfer {
  const count = fine.length - 1;
  const parent = new Int32Array(count);
  const side = new Int8Array(count);
  const shareTimesDistanceM = new Float64Array(count);
  const perSize = new Float64Array(count);
  const middle = (lines: Float64Array, i: number) => (lines[i] + lines[i + 1]) / 2;
  let p = 0;
  for (let i = 0; i < count; i++) {
    const at = middle(fine, i);
    while (at >= coarse[p + 1]) p++;
    parent[i] = p;
    perSize[i] = 1 / (coarse[p + 1] - coarse[p]);
    const offset = at - middle(coarse, p);
    const way = Math.abs(offset) <= 1e-9 * (coarse[p + 1] - coarse[p]) ? 0 : offset > 0 ? 1 : -1;
    const other = p + way;
    if (way === 0 || other < 0 || other >= coarse.length - 1) continue;
    side[i] = way;
    // Share |offset| / distance; the distance drops out.
    shareTimesDistanceM[i] = Math.abs(offset);
  }
  return { parent, side, shareTimesDistanceM, perSize };
}

function coarsen(
  fine: Omit<Level, 'down'>,
  fineLines: GridLines,
  coarseLines: GridLines,
  t: { x: AxisTransfer; y: AxisTransfer; z: AxisTransfer },
) {
  const nx = coarseLines.x.length - 1;
  const ny = coarseLines.y.length - 1;
  const nz = coarseLines.z.length - 1;
  const plane = nx * ny;
  const size = plane * (nz + 2);
  const gx = new Float32Array(size);
  const gy = new Float32Array(size);
  const gz = new Float32Array(size);
  const scaleX = distanceRatio(fineLines.x, coarseLines.x, t.x.parent);
  const scaleY = distanceRatio(fineLines.y, coarseLines.y, t.y.parent);
  const scaleZ = distanceRatio(fineLines.z, coarseLines.z, t.z.parent);
  let c = fine.plane;
  for (let k = 0; k < fine.nz; k++) {
    for (let j = 0; j < fine.ny; j++) {
      const row = plane + nx * (t.y.parent[j] + ny * t.z.parent[k]);
      for (let i = 0; i < fine.nx; i++, c++) {
        const p = row + t.x.parent[i];
        gx[p] += scaleX[i] * fine.gx[c];
        gy[p] += scaleY[j] * fine.gy[c];
        gz[p] += scaleZ[k] * fine.gz[c];
      }
    }
  }
  const coarseOf = (cell: number) => {
    const at = cell - fine.plane;
    const i = at % fine.nx;
    const j = ((at - i) / fine.nx) % fine.ny;
    const k = (at - i - fine.nx * j) / fine.plane;
    return plane + t.x.parent[i] + nx * (t.y.parent[j] + ny * t.z.parent[k]);
  };
  const gathered = (cells: Int32Array) => {
    const places = new Map<number, number>();
    const parents = new Int32Array(cells.length);
    for (let s = 0; s < cells.length; s++) {
      const p = coarseOf(cells[s]);
      let place = places.get(p);
      if (place === undefined) places.set(p, (place = places.size));
      parents[s] = place;
    }
    return { cells: Int32Array.from(places.keys()), parents };
  };
  const anodes = gathered(fine.anodeCell);
  const cathodes = gathered(fine.cathodeCell);
  return {
    level: newLevel({ nx, ny, nz, gx, gy, gz }, anodes.cells, cathodes.cells),
    parents: { anodeParent: anodes.parents, cathodeParent: cathodes.parents },
  };
}

/** For the face above each fine interval: fine over coarse distance of the middles, 0 for a face inside a coarse interval. */
function distanceRatio(fine: Float64Array, coarse: Float64Array, parent: Int32Array): Float64Array {
  const ratio = new Float64Array(parent.length);
  for (let i = 0; i + 1 < parent.length; i++) {
    if (parent[i] === parent[i + 1]) continue;
    const p = parent[i];
    ratio[i] = (fine[i + 2] - fine[i]) / (coarse[p + 2] - coarse[p]);
  }
  return ratio;
}
