import { imbalanceInto, newState, type CellState, type CellSystem } from './cell-system.ts';
import { conjugateGradient } from './conjugate-gradient.ts';
import { voltageAt } from './electrode-law.ts';
import type { GridLines } from './grid-levels.ts';
import { buildMultigrid, preconditionInto, updateSurfaces } from './multigrid.ts';

const MOST_ITERATIONS_A_STEP = 200;

export interface SolveCellsOptions {
  /** Planned current from all anodes together, A. */
  readonly totalCurrentA: number;
  /** Σ|imbalance| over the total current at which the solution is accepted. */
  readonly tolerance: number;
  readonly mostNewtonSteps: number;
  /** Called after every linear iteration with the relative residual; false cancels. */
  readonly onIteration?: (relativeResidual: number, iterations: number) => boolean;
}

export interface CellSolution {
  readonly state: CellState;
  readonly relativeResidual: number;
  readonly newtonSteps: number;
  readonly linearIterations: number;
  readonly outcome: 'solved' | 'not-solved' | 'cancelled';
  /** Relative residual before each Newton step and at the end. */
  readonly history: readonly number[];
}

/**
 * Newton's method on the whole nonlinear system, potentials and the metal's voltage together, each step by
 * preconditioned conjugate gradients (the Jacobian is symmetric: every surface patch is a conductance). The linear
 * system is solved only as far as the step deserves; a step that does not lower the imbalance is halved.
 * @param start potentials to start from, metal last; by default the bath at rest and the metal at the mean density's voltage
 */
export function solveCells(
  system: CellSystem,
  lines: GridLines,
  options: SolveCellsOptions,
  start?: Float64Array,
): CellSolution {
  const { totalCurrentA, tolerance } = options;
  if (!(totalCurrentA > 0)) throw new RangeError(`solveCells: totalCurrentA is ${totalCurrentA}`);
  if (!(tolerance > 0)) throw new RangeError(`solveCells: tolerance is ${tolerance}`);
  if (system.anodes.count === 0 || system.cathodes.count === 0) {
    throw new RangeError('solveCells: system has no anode or no cathode surface');
  }
  const state = newState(system);
  const { potentialV } = state;
  if (start) potentialV.set(start);
  else startAtRest(system, potentialV, totalCurrentA);
  const r = new Float64Array(system.size + 1);
  const step = new Float64Array(system.size + 1);
  const anodeSlope = new Float64Array(system.anodes.count);
  const cathodeSlope = new Float64Array(system.cathodes.count);
  const multigrid = buildMultigrid(system, lines);
  let linearIterations = 0;
  let newtonSteps = 0;
  let residual = imbalanceInto(r, system, state, totalCurrentA, anodeSlope, cathodeSlope) / totalCurrentA;
  const history = [residual];
  while (residual > tolerance && newtonSteps < options.mostNewtonSteps) {
    updateSurfaces(multigrid, anodeSlope, cathodeSlope);
    step.fill(0);
    // Newton squares the error, so going further down than that buys nothing.
    const reduction = Math.max(Math.min(0.05, residual), (0.3 * tolerance) / residual);
    const outcome = conjugateGradient(
      step,
      r,
      { cells: system, anodeSlope, cathodeSlope },
      (z, residualA) => preconditionInto(z, multigrid, residualA),
      reduction * residual * totalCurrentA,
      MOST_ITERATIONS_A_STEP,
      (_, residualA) => {
        linearIterations++;
        return options.onIteration?.(residualA / totalCurrentA, linearIterations) ?? true;
      },
    );
    if (outcome.stopped) {
      return {
        state,
        relativeResidual: residual,
        newtonSteps,
        linearIterations,
        outcome: 'cancelled',
        history,
      };
    }
    let length = 1;
    for (let i = 0; i < step.length; i++) potentialV[i] += step[i];
    let next = imbalanceInto(r, system, state, totalCurrentA, anodeSlope, cathodeSlope) / totalCurrentA;
    for (let halvings = 0; halvings < 12 && !(next < residual); halvings++) {
      length /= 2;
      for (let i = 0; i < step.length; i++) potentialV[i] -= length * step[i];
      next = imbalanceInto(r, system, state, totalCurrentA, anodeSlope, cathodeSlope) / totalCurrentA;
    }
    newtonSteps++;
    const stuck = !(next < residual);
    residual = next;
    history.push(residual);
    if (stuck) break;
  }
  const outcome = residual <= tolerance ? 'solved' : 'not-solved';
  return { state, relativeResidual: residual, newtonSteps, linearIterations, outcome, history };
}

function startAtRest(system: CellSystem, potentialV: Float64Array, totalCurrentA: number): void {
  const { anodes, laws, size } = system;
  let areaM2 = 0;
  for (let p = 0; p < anodes.count; p++) areaM2 += anodes.areaM2[p];
  let sum = 0;
  for (let p = 0; p < anodes.count; p++) {
    sum += anodes.areaM2[p] * voltageAt(laws[anodes.law[p]], totalCurrentA / areaM2);
  }
  potentialV[size] = sum / areaM2;
}
