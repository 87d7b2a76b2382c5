import type { Bath, FieldBody, WallCathode } from '../../../core/field/bath-bodies.ts';
import { cutBath, type CutBath } from '../../../core/field/cut-cells.ts';
import type { ElectrodeLaw } from '../../../core/field/electrode-law.ts';
import { gradedAxis } from '../../../core/field/graded-axis.ts';
import type { GridLines } from '../../../core/field/grid-levels.ts';
import { solveCells, type CellSolution } from '../../../core/field/solve-cells.ts';

export const KAPPA = 60;

export const linear = (slopeVM2PerA: number, restV = 0): ElectrodeLaw => ({
  kind: 'linear',
  restV,
  slopeVM2PerA,
});

export const anode = (positionsM: Float64Array, slope: number, more: Partial<FieldBody> = {}): FieldBody => ({
  name: 'part',
  role: 'anode',
  positionsM,
  law: linear(slope),
  ...more,
});

/** The bath's outer wall as one cathode. */
export const vesselCathode = (
  positionsM: Float64Array,
  slope: number,
  more: Partial<FieldBody> = {},
): FieldBody => ({
  name: 'vessel',
  role: 'cathode',
  holdsBath: true,
  positionsM,
  law: linear(slope),
  ...more,
});

export interface Solved {
  readonly cut: CutBath;
  readonly solution: CellSolution;
  /** Cell voltage over current. */
  readonly resistanceOhm: number;
  /** The same without the surface layers, to first order: V/I − Σ slope·j²·A / I². */
  readonly bathOhm: number;
}

/** A reference problem on given lines. Not through solveField: no second grid. */
export function solveOnLines(
  box: { minM: Bath['minM']; maxM: Bath['maxM'] },
  bodies: readonly FieldBody[],
  lines: GridLines,
  totalCurrentA = 1,
  wallCathodes: readonly WallCathode[] = [],
): Solved {
  const cut = cutBath({ ...box, conductivitySPerM: KAPPA, bodies, wallCathodes }, lines);
  const solution = solveCells(cut.system, lines, { totalCurrentA, tolerance: 1e-8, mostNewtonSteps: 30 });
  if (solution.outcome !== 'solved')
    throw new Error(`reference problem: ${solution.outcome} ${solution.relativeResidual}`);
  const { state } = solution;
  const resistanceOhm = state.potentialV[cut.system.size] / totalCurrentA;
  let layers = 0;
  for (const [patches, densities] of [
    [cut.system.anodes, state.anodeAPerM2],
    [cut.system.cathodes, state.cathodeAPerM2],
  ] as const) {
    for (let p = 0; p < patches.count; p++) {
      const law = cut.system.laws[patches.law[p]];
      if (law.kind === 'linear') layers += law.slopeVM2PerA * densities[p] ** 2 * patches.areaM2[p];
    }
  }
  return { cut, solution, resistanceOhm, bathOhm: resistanceOhm - layers / totalCurrentA ** 2 };
}

/** An eighth of space: fine spacing up to `fineM`, growing by 15 % a cell to `outM`. */
export function octantLines(fineM: number, outM: number, spacingM: number): GridLines {
  const axis = gradedAxis({ lowM: 0, highM: outM, fineLowM: 0, fineHighM: fineM, spacingM, growth: 1.15 });
  return { x: axis, y: axis, z: axis };
}

/** Area-weighted mean density of the patches whose middle piece satisfies `where`, from the pieces. */
export function meanDensity(solved: Solved, where: (x: number, y: number, z: number) => boolean): number {
  const { cut, solution } = solved;
  const { pieces } = cut;
  let current = 0;
  let area = 0;
  for (let p = 0; p < pieces.count; p++) {
    const patch = pieces.patch[p];
    if (patch < 0 || cut.owners[pieces.body[p]] !== 'part') continue;
    const [x, y, z] = [pieces.centroidM[p * 3], pieces.centroidM[p * 3 + 1], pieces.centroidM[p * 3 + 2]];
    if (!where(x, y, z)) continue;
    current += solution.state.anodeAPerM2[patch] * pieces.areaM2[p];
    area += pieces.areaM2[p];
  }
  return area > 0 ? current / area : NaN;
}
