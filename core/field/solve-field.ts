import { failure, success, type Result } from '../result.ts';
import type { Bath, FieldBody } from './bath-bodies.ts';
import { cutBath, type CutBath } from './cut-cells.ts';
import { checkLaw } from './electrode-law.ts';
import { fieldBytes, planGrid, type FieldGrid } from './field-grid.ts';
import { axisTransfer, type GridLines } from './grid-levels.ts';
import { solveCells, type CellSolution } from './solve-cells.ts';
import { surfaceDensity, type SurfaceDensity } from './surface-density.ts';

/**
 * The current distribution in the bath.
 *
 * In the liquid ∇·(κ∇φ) = 0, φ in V, κ in S/m. Walls, the air above, masks: no current, ∂φ/∂n = 0. On a part
 * κ ∂φ/∂n (n into the liquid) = −j with φ_metal − φ = U(j), the voltage across its growing film at the density j (A/m²),
 * not a straight line. On a cathode, whose metal is at 0 V, φ = restV + slope·j. All parts, neighbours and hangers hang on one
 * metal; its voltage is found such that their currents sum to the planned one.
 *
 * What is assumed: the liquid is stirred, so κ is the same everywhere; bubbles in it, the warming of bores and what the film
 * already grown does to the voltage are left out; surface under trapped gas takes no current, but current may pass through the
 * pocket (it moves no face by 0.2 %, checked); metal has no resistance; thickness follows charge (one constant, no
 * dissolution). A map is good for a film law known to a third or so where holes are deep, and hardly depends on it on
 * open shapes, where the film's voltage outweighs the liquid's. Sources: Newman and Thomas-Alyea, Electrochemical
 * Systems, ch. 18 (equations, Wagner number); film law and conductivity name theirs.
 */
export interface FieldRequest {
  readonly bath: Bath;
  /** Index into the bath's bodies of the part the grid is fine at and the map is made for. */
  readonly part: number;
  /** From all anodes together, A. */
  readonly totalCurrentA: number;
}

export interface FieldOptions {
  /** About so many cells in the fine grid; 128³ by default. */
  readonly mostCells?: number;
  /** Σ|imbalance| over the current, 1e-6 by default. */
  readonly tolerance?: number;
  /** Refused above this. */
  readonly mostBytes?: number;
}

export interface FieldProgress {
  readonly grid: 'coarse' | 'fine';
  readonly stage: 'cutting' | 'solving';
  readonly cells: number;
  /** Memory of the whole solution, bytes; known before it starts. */
  readonly bytes: number;
  /** Σ|imbalance| over the current; 1 while cutting. */
  readonly relativeResidual: number;
  readonly iterations: number;
  /** Of the whole work, 0-1, a guess. */
  readonly share: number;
  /** With the fine grid under way: what the coarse one found for the part. */
  readonly coarse?: SurfaceDensity;
}

export interface FieldAnswer {
  readonly cellVoltageV: number;
  readonly part: SurfaceDensity;
  /** Of each body and wall cathode, in the bath's order: current out of an anode or into a cathode, A, 0 for insulators. */
  readonly currents: readonly {
    readonly name: string;
    readonly role: 'anode' | 'cathode' | 'insulator';
    readonly currentA: number;
  }[];
  readonly anodeCurrentA: number;
  readonly cathodeCurrentA: number;
  readonly relativeResidual: number;
  readonly newtonSteps: number;
  readonly iterations: number;
  readonly cells: number;
}

export interface FieldResult {
  readonly fine: FieldAnswer;
  readonly coarse: FieldAnswer;
  readonly grid: FieldGrid;
  /**
   * Fine against coarse. A difference that falls by the square of the spacing overstates the fine answer's error three
   * times, one that falls in proportion (edges) not at all: it is given as it is, an upper estimate.
   */
  readonly error: {
    readonly cellVoltageV: number;
    readonly leastAPerM2: number;
    readonly mostAPerM2: number;
    /** Root of the area-weighted mean square of the triangles' difference, over the mean density. */
    readonly rmsShare: number;
  };
}

const DEFAULT_CELLS = 128 ** 3;
const DEFAULT_TOLERANCE = 1e-6;
const CLOSED_TO = 1e-4;
const MOST_NEWTON_STEPS = 40;
/** Share of the work that the coarse grid is. */
const COARSE_SHARE = 0.15;

/**
 * Solves the field on a coarse grid and on one twice as fine. `onProgress` is called between iterations; returning false
 * stops the work (`cancelled`).
 * Fails with `field-no-anode`, `field-no-cathode`, `field-not-closed`, `field-out-of-bath`, `field-memory`, `field-not-solved`, `cancelled`.
 */
export function solveField(
  request: FieldRequest,
  options: FieldOptions = {},
  onProgress: (progress: FieldProgress) => boolean | void = () => true,
): Result<FieldResult> {
  const { bath } = request;
  const part = bath.bodies[request.part];
  if (part?.role !== 'anode')
    throw new RangeError(`solveField: part ${request.part} is not an anode of the bath`);
  if (!(request.totalCurrentA > 0))
    throw new RangeError(`solveField: totalCurrentA is ${request.totalCurrentA}`);
  for (const body of bath.bodies) if (body.law) checkLaw(body.law);
  for (const sheet of bath.wallCathodes) checkLaw(sheet.law);
  const grid = planFieldGrid(request, options);
  if (!grid.ok) return grid;
  const run = (which: 'coarse' | 'fine', lines: GridLines, start?: Float64Array, coarse?: SurfaceDensity) =>
    solveOn(
      request,
      lines,
      options.tolerance ?? DEFAULT_TOLERANCE,
      start,
      (stage, residual, iterations, share) => {
        const before = which === 'coarse' ? 0 : COARSE_SHARE;
        const weight = which === 'coarse' ? COARSE_SHARE : 1 - COARSE_SHARE;
        const progress: FieldProgress = {
          grid: which,
          stage,
          cells: (lines.x.length - 1) * (lines.y.length - 1) * (lines.z.length - 1),
          bytes: grid.value.bytes,
          relativeResidual: residual,
          iterations,
          share: before + weight * share,
          ...(coarse ? { coarse } : {}),
        };
        return onProgress(progress) !== false;
      },
    );
  const coarse = run('coarse', grid.value.coarse);
  if (!coarse.ok) return coarse;
  const start = carryToFiner(coarse.value.cut, coarse.value.solution, grid.value);
  const coarseAnswer = coarse.value.answer;
  const fine = run('fine', grid.value.fine, start, coarseAnswer.part);
  if (!fine.ok) return fine;
  return success({
    fine: fine.value.answer,
    coarse: coarseAnswer,
    grid: grid.value,
    error: compare(fine.value.answer, coarseAnswer),
  });
}

/** The grid and the memory the solution will take, before it starts. Fails with `field-out-of-bath` or `field-memory`. */
export function planFieldGrid(request: FieldRequest, options: FieldOptions = {}): Result<FieldGrid> {
  const { bath } = request;
  const box = boxInBath(bath, bath.bodies[request.part]);
  if (!box) {
    return failure(
      'field-out-of-bath',
      'The part hangs outside the liquid, so no current reaches it.',
      'Hang it lower, or raise the level of the bath.',
    );
  }
  const mostCells = options.mostCells ?? DEFAULT_CELLS;
  const bytes = fieldBytes(mostCells);
  if (options.mostBytes !== undefined && bytes > options.mostBytes) {
    return failure(
      'field-memory',
      `A grid this fine takes about ${Math.ceil(bytes / 1e6)} MB, more than there is.`,
      'Choose a coarser grid.',
    );
  }
  return success(planGrid(bath, box.low, box.high, mostCells));
}

function boxInBath(bath: Bath, body: FieldBody) {
  const low = [Infinity, Infinity, Infinity];
  const high = [-Infinity, -Infinity, -Infinity];
  body.positionsM.forEach((x, i) => {
    const n = i % 3;
    low[n] = Math.min(low[n], x);
    high[n] = Math.max(high[n], x);
  });
  for (let n = 0; n < 3; n++) {
    low[n] = Math.max(low[n], bath.minM[n]);
    high[n] = Math.min(high[n], bath.maxM[n]);
    if (!(high[n] > low[n])) return undefined;
  }
  return { low, high };
}

type Step = (stage: 'cutting' | 'solving', residual: number, iterations: number, share: number) => boolean;

const CANCELLED = failure(
  'cancelled',
  'The calculation was stopped.',
  'Start it again when you want the map.',
);

function solveOn(
  request: FieldRequest,
  lines: GridLines,
  tolerance: number,
  start: Float64Array | undefined,
  onStep: Step,
): Result<{ cut: CutBath; solution: CellSolution; answer: FieldAnswer }> {
  if (!onStep('cutting', 1, 0, 0)) return CANCELLED;
  const cut = cutBath(request.bath, lines, request.part);
  const fault = findFault(cut);
  if (fault) return fault;
  if (!onStep('solving', 1, 0, 0.2)) return CANCELLED;
  let first = 0;
  const solution = solveCells(
    cut.system,
    lines,
    {
      totalCurrentA: request.totalCurrentA,
      tolerance,
      mostNewtonSteps: MOST_NEWTON_STEPS,
      onIteration: (residual, iterations) => {
        first ||= Math.max(residual, 10 * tolerance);
        const way = Math.log(first / residual) / Math.log(first / tolerance);
        return onStep('solving', residual, iterations, 0.2 + 0.8 * Math.min(1, Math.max(0, way)));
      },
    },
    start,
  );
  if (solution.outcome === 'cancelled') return CANCELLED;
  if (solution.outcome === 'not-solved') {
    return failure(
      'field-not-solved',
      `The calculation stopped at an imbalance of ${solution.relativeResidual.toExponential(1)} of the current.`,
      'Check that the part hangs free in the liquid and that every cathode is in it, or choose another grid.',
    );
  }
  return success({ cut, solution, answer: answerOf(request, cut, solution, lines) });
}

function findFault(cut: CutBath) {
  if (cut.leak > CLOSED_TO) {
    return failure(
      'field-not-closed',
      'A surface is not closed, so inside and outside can’t be told apart.',
      'Close the model’s open edges first; the findings of the part show them.',
    );
  }
  if (cut.system.cathodes.count === 0) {
    return failure(
      'field-no-cathode',
      'There is no cathode in the liquid.',
      'Put at least one cathode sheet into the tank, its lower edge under the level.',
    );
  }
  if (cut.system.anodes.count === 0) {
    return failure(
      'field-no-anode',
      'No coated surface is in liquid that reaches a cathode.',
      'Check the masks, and that the part hangs under the level.',
    );
  }
  return undefined;
}

function answerOf(
  request: FieldRequest,
  cut: CutBath,
  solution: CellSolution,
  lines: GridLines,
): FieldAnswer {
  const { bath } = request;
  const { system, anodeOwner, cathodeOwner } = cut;
  const currents = new Float64Array(cut.owners.length);
  let anodeCurrentA = 0;
  let cathodeCurrentA = 0;
  for (let p = 0; p < system.anodes.count; p++) {
    const current = solution.state.anodeAPerM2[p] * system.anodes.areaM2[p];
    currents[anodeOwner[p]] += current;
    anodeCurrentA += current;
  }
  for (let p = 0; p < system.cathodes.count; p++) {
    const current = solution.state.cathodeAPerM2[p] * system.cathodes.areaM2[p];
    currents[cathodeOwner[p]] += current;
    cathodeCurrentA += current;
  }
  return {
    cellVoltageV: solution.state.potentialV[system.size],
    part: surfaceDensity(cut, solution.state, request.part, bath.bodies[request.part].positionsM.length / 9),
    currents: cut.owners.map((name, n) => ({
      name,
      role: bath.bodies[n]?.role ?? 'cathode',
      currentA: currents[n],
    })),
    anodeCurrentA,
    cathodeCurrentA,
    relativeResidual: solution.relativeResidual,
    newtonSteps: solution.newtonSteps,
    iterations: solution.linearIterations,
    cells: (lines.x.length - 1) * (lines.y.length - 1) * (lines.z.length - 1),
  };
}

/** The coarse potentials, interpolated linearly, as a start on the fine grid. */
function carryToFiner(cut: CutBath, solution: CellSolution, grid: FieldGrid): Float64Array {
  const { fine, coarse } = grid;
  const tx = axisTransfer(fine.x, coarse.x);
  const ty = axisTransfer(fine.y, coarse.y);
  const tz = axisTransfer(fine.z, coarse.z);
  const nx = fine.x.length - 1;
  const ny = fine.y.length - 1;
  const nz = fine.z.length - 1;
  const { system } = cut;
  const from = solution.state.potentialV;
  const metalV = from[system.size];
  const out = new Float64Array(nx * ny * (nz + 2) + 1);
  const { gx, gy, gz, plane } = system;
  const share = (t: typeof tx, lines: Float64Array, i: number) => {
    const p = t.parent[i];
    const other = p + t.side[i];
    return other === p
      ? 0
      : t.shareTimesDistanceM[i] / (Math.abs(lines[other] + lines[other + 1] - lines[p] - lines[p + 1]) / 2);
  };
  const sharesX = Float64Array.from({ length: nx }, (_, i) => share(tx, coarse.x, i));
  let c = nx * ny;
  for (let k = 0; k < nz; k++) {
    const az = share(tz, coarse.z, k);
    for (let j = 0; j < ny; j++) {
      const ay = share(ty, coarse.y, j);
      const row = plane + system.nx * (ty.parent[j] + system.ny * tz.parent[k]);
      for (let i = 0; i < nx; i++, c++) {
        const p = row + tx.parent[i];
        const v = from[p];
        let sum = v;
        const sx = tx.side[i];
        if (sx !== 0 && gx[sx < 0 ? p - 1 : p] > 0) sum += sharesX[i] * (from[p + sx] - v);
        const sy = ty.side[j] * system.nx;
        if (sy !== 0 && gy[sy < 0 ? p + sy : p] > 0) sum += ay * (from[p + sy] - v);
        const sz = tz.side[k] * plane;
        if (sz !== 0 && gz[sz < 0 ? p + sz : p] > 0) sum += az * (from[p + sz] - v);
        out[c] = sum;
      }
    }
  }
  out[out.length - 1] = metalV;
  return out;
}

function compare(fine: FieldAnswer, coarse: FieldAnswer): FieldResult['error'] {
  const { part } = fine;
  let squares = 0;
  let areaM2 = 0;
  for (let t = 0; t < part.conductingM2.length; t++) {
    if (!(part.conductingM2[t] > 0 && coarse.part.conductingM2[t] > 0)) continue;
    squares += part.conductingM2[t] * (part.triangleAPerM2[t] - coarse.part.triangleAPerM2[t]) ** 2;
    areaM2 += part.conductingM2[t];
  }
  const mean = part.currentA / part.areaM2;
  return {
    cellVoltageV: Math.abs(fine.cellVoltageV - coarse.cellVoltageV),
    leastAPerM2: Math.abs(part.leastAPerM2 - coarse.part.leastAPerM2),
    mostAPerM2: Math.abs(part.mostAPerM2 - coarse.part.mostAPerM2),
    rmsShare: areaM2 > 0 ? Math.sqrt(squares / areaM2) / mean : 0,
  };
}
