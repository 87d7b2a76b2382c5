import type { Bath } from '../../core/field/bath-bodies.ts';
import { imbalanceInto, newState, type LinearSystem } from '../../core/field/cell-system.ts';
import { conjugateGradient } from '../../core/field/conjugate-gradient.ts';
import { cutBath } from '../../core/field/cut-cells.ts';
import { planGrid } from '../../core/field/field-grid.ts';
import { CATHODE_LAW_DEFAULT, filmLaw } from '../../core/field/film-law.ts';
import { buildMultigrid, preconditionInto, updateSurfaces } from '../../core/field/multigrid.ts';
import { solveField } from '../../core/field/solve-field.ts';
import { anode, KAPPA, solveOnLines, vesselCathode } from '../core/field/reference-problem.ts';
import { cylinder, even, revolved, sphere } from '../core/field/shapes.ts';
import type { BenchSubject, Target } from './harness.ts';

/** A cup of 40 mm with a bore of 16 mm, 50 mm deep, off the middle of a 36-litre tank with a sheet at either end. */
const CUP = revolved(
  [
    [0, -0.02],
    [0.008, -0.02],
    [0.008, 0.03],
    [0.02, 0.03],
    [0.02, -0.03],
    [0, -0.03],
  ],
  96,
  [0.01, 0.005, 0.15],
);
const LOW = [-0.01, -0.015, 0.12];
const HIGH = [0.03, 0.025, 0.18];
const CURRENT_A = 1.5;

const BATH: Bath = {
  minM: [-0.2, -0.15, 0],
  maxM: [0.2, 0.15, 0.3],
  conductivitySPerM: 58.9,
  bodies: [{ name: 'cup', role: 'anode', positionsM: CUP, law: filmLaw().law }],
  wallCathodes: (['x-', 'x+'] as const).map((wall) => ({
    name: wall,
    wall,
    lowM: [-0.1, 0.05],
    highM: [0.1, 0.25],
    law: CATHODE_LAW_DEFAULT,
  })),
};

/** Plain conjugate gradients are given up at this multiple of the time multigrid took. */
const GIVEN_UP_AT = 12;

export const field: BenchSubject = {
  name: 'field/solve',
  run: () => [...printOrders(), ...timeSizes(), ...comparePlain()],
};

interface Run {
  readonly seconds: number;
  readonly cells: number;
  readonly peakBytes: number;
}

/** The whole of solveField: both grids cut and solved, nonlinear, to 1e-6, and the map. */
function wholeSolution(side: number): Run {
  (globalThis as { gc?: () => void }).gc?.();
  let peakBytes = 0;
  const start = performance.now();
  const result = solveField(
    { bath: BATH, part: 0, totalCurrentA: CURRENT_A },
    { mostCells: side ** 3 },
    () => {
      peakBytes = Math.max(peakBytes, process.memoryUsage.rss());
    },
  );
  const seconds = (performance.now() - start) / 1000;
  if (!result.ok) throw new Error(result.error.message);
  const { fine, coarse, error, grid } = result.value;
  const cells = fine.cells + coarse.cells;
  console.log(
    `  ${side}³: ${fine.cells} + ${coarse.cells} cells, ${seconds.toFixed(2)} s, ${((seconds * 1e6) / cells).toFixed(2)} µs a cell, ` +
      `Newton ${coarse.newtonSteps} + ${fine.newtonSteps}, linear ${coarse.iterations} + ${fine.iterations}, ` +
      `residual ${fine.relativeResidual.toExponential(1)}, anode/cathode − 1 ${(fine.anodeCurrentA / fine.cathodeCurrentA - 1).toExponential(1)}, ` +
      `stated ${Math.round(grid.bytes / 1e6)} MB, whole process ${Math.round(peakBytes / 1e6)} MB, ` +
      `${fine.cellVoltageV.toFixed(4)} ± ${error.cellVoltageV.toFixed(4)} V, least ${fine.part.leastAPerM2.toFixed(2)} ± ${error.leastAPerM2.toFixed(2)} A/m²`,
  );
  return { seconds, cells, peakBytes };
}

function timeSizes(): Target[] {
  console.log('\nWhole nonlinear solution, coarse and fine grid, cutting and map included');
  // Short runs suffer most from whatever else the machine does, so the best of several is taken.
  const best = (side: number, rounds: number) =>
    Array.from({ length: rounds }, () => wholeSolution(side)).reduce((a, b) =>
      b.seconds < a.seconds ? b : a,
    );
  wholeSolution(48);
  const [small, middle, large] = [best(64, 6), best(128, 2), best(192, 1)];
  const perCell = [small, middle, large].map(({ seconds, cells }) => seconds / cells);
  return [
    { what: '64³, nonlinear, to 1e-6', value: small.seconds, limit: 2.5, unit: ' s' },
    { what: '128³, nonlinear, to 1e-6', value: middle.seconds, limit: 20, unit: ' s' },
    { what: '192³, memory of the whole process', value: large.peakBytes / 1e9, limit: 3, unit: ' GB' },
    {
      what: 'time per unknown, 64³ to 192³, slowest over fastest',
      value: Math.max(...perCell) / Math.min(...perCell),
      limit: 1.5,
      unit: '',
    },
  ];
}

/** The first Newton step's linear system at 128³, down by 1e-6, from zero, by both. */
function comparePlain(): Target[] {
  const { fine } = planGrid(BATH, LOW, HIGH, 128 ** 3);
  const { system } = cutBath(BATH, fine);
  const linear = {
    cells: system,
    anodeSlope: new Float64Array(system.anodes.count),
    cathodeSlope: new Float64Array(system.cathodes.count),
  };
  const state = newState(system);
  state.potentialV[system.size] = 14;
  const first = new Float64Array(system.size + 1);
  const imbalance = imbalanceInto(first, system, state, CURRENT_A, linear.anodeSlope, linear.cathodeSlope);
  type Precondition = (z: Float64Array, r: Float64Array) => void;
  const timed = (prepare: () => Precondition | undefined, mostSeconds: number) => {
    const start = performance.now();
    const elapsed = () => (performance.now() - start) / 1000;
    const precondition = prepare();
    const x = new Float64Array(system.size + 1);
    const outcome = conjugateGradient(
      x,
      first.slice(),
      linear,
      precondition,
      1e-6 * imbalance,
      100_000,
      () => elapsed() < mostSeconds,
    );
    return { ...outcome, seconds: elapsed() };
  };
  const preconditioned = timed(() => {
    const multigrid = buildMultigrid(system, fine);
    updateSurfaces(multigrid, linear.anodeSlope, linear.cathodeSlope);
    return (z, r) => preconditionInto(z, multigrid, r);
  }, Infinity);
  const patience = GIVEN_UP_AT * preconditioned.seconds;
  const plain = timed(() => undefined, patience);
  // Not asked for, but fairer: cut cells with a sliver of an opening are what plain conjugate gradients choke on.
  const scaled = timed(() => {
    const diagonal = new Float64Array(system.size + 1);
    diagonalInto(diagonal, linear);
    return (z, r) => {
      for (let i = 0; i < z.length; i++) z[i] = diagonal[i] > 0 ? r[i] / diagonal[i] : 0;
    };
  }, patience);
  console.log('\nSame linear system at 128³, down by 1e-6');
  for (const [name, run] of [
    ['multigrid, its building included', preconditioned],
    ['plain conjugate gradients', plain],
    ['scaled by the diagonal', scaled],
  ] as const) {
    const end = run.stopped
      ? `, given up at a residual of ${(run.residualA / imbalance).toExponential(1)}`
      : '';
    console.log(`  ${name}: ${run.iterations} iterations, ${run.seconds.toFixed(2)} s${end}`);
  }
  return [
    {
      what: `faster than plain conjugate gradients at 128³${plain.stopped ? ' (given up, so at least)' : ''}`,
      value: plain.seconds / preconditioned.seconds,
      limit: 10,
      unit: '×',
      atLeast: true,
    },
  ];
}

function diagonalInto(diagonal: Float64Array, { cells, anodeSlope, cathodeSlope }: LinearSystem): void {
  const { gx, gy, gz, nx, plane, size, anodes, cathodes } = cells;
  for (let c = plane; c < size - plane; c++) {
    diagonal[c] = gx[c - 1] + gx[c] + gy[c - nx] + gy[c] + gz[c - plane] + gz[c];
  }
  anodes.cell.forEach((c, p) => {
    diagonal[c] += anodeSlope[p];
    diagonal[size] += anodeSlope[p];
  });
  cathodes.cell.forEach((c, p) => (diagonal[c] += cathodeSlope[p]));
}

/** Errors against closed forms on three grids, root mean square over three placements of the grid. */
function printOrders(): Target[] {
  const slope = 1e-4;
  const spheres = orderRows([12, 24, 48], (n, room) => {
    const [a, b] = [0.01, 0.02];
    const exact =
      (1 / a - 1 / b) / (4 * Math.PI * KAPPA) + (slope / (4 * Math.PI)) * (1 / a ** 2 + 1 / b ** 2);
    const line = even(0, room * b, n);
    const solved = solveOnLines(
      { minM: [0, 0, 0], maxM: [room * b, room * b, room * b] },
      [anode(sphere(a, 400), slope), vesselCathode(sphere(b, 400), slope)],
      { x: line, y: line, z: line },
      1 / 8,
    );
    return {
      resistance: solved.resistanceOhm / 8 / exact - 1,
      density: densitySpread(solved, 4 * Math.PI * a * a),
    };
  });
  const cylinders = orderRows([32, 64, 128], (n, room) => {
    const [a, b, long] = [0.01, 0.025, 0.01];
    const exact =
      Math.log(b / a) / (2 * Math.PI * KAPPA * long) + (slope / (2 * Math.PI * long)) * (1 / a + 1 / b);
    const line = even(0, room * b, n);
    const solved = solveOnLines(
      { minM: [0, 0, 0], maxM: [room * b, room * b, long] },
      [anode(cylinder(a, -1, 1, 720), slope), vesselCathode(cylinder(b, -1, 1, 720), slope)],
      { x: line, y: line, z: even(0, long, 2) },
      1 / 4,
    );
    return {
      resistance: solved.resistanceOhm / 4 / exact - 1,
      density: densitySpread(solved, 2 * Math.PI * a * long),
    };
  });
  console.log('\nOrder on curved surfaces, closed forms, film layer κb = 6 mm');
  console.log('  | problem | cells a side | resistance error | order | density error (rms) | order |');
  console.log('  |---|---|---|---|---|---|');
  const least: number[] = [];
  for (const [name, rows] of [
    ['concentric spheres 10/20 mm (an eighth)', spheres],
    ['coaxial cylinders 10/25 mm (a quarter)', cylinders],
  ] as const) {
    rows.forEach((row, i) => {
      const order = (key: 'resistance' | 'density') => {
        if (i === 0) return '';
        const value = Math.log2(rows[i - 1][key] / row[key]);
        least.push(value);
        return value.toFixed(2);
      };
      console.log(
        `  | ${name} | ${row.n} | ${row.resistance.toExponential(2)} | ${order('resistance')} | ${row.density.toExponential(2)} | ${order('density')} |`,
      );
    });
  }
  return [
    {
      what: 'least order observed on curved surfaces',
      value: Math.min(...least),
      limit: 1.7,
      unit: '',
      atLeast: true,
    },
  ];
}

const ROOMS = [1.01, 1.03, 1.05];

function orderRows(
  sizes: readonly number[],
  errors: (n: number, room: number) => { resistance: number; density: number },
) {
  return sizes.map((n) => {
    const found = ROOMS.map((room) => errors(n, room));
    const rms = (key: 'resistance' | 'density') =>
      Math.sqrt(found.reduce((sum, error) => sum + error[key] ** 2, 0) / found.length);
    return { n, resistance: rms('resistance'), density: rms('density') };
  });
}

/** Root mean square over the surface of j/j_exact − 1, the total current of the whole body being 1 A. */
function densitySpread({ cut, solution }: ReturnType<typeof solveOnLines>, wholeM2: number): number {
  const { anodes } = cut.system;
  let squares = 0;
  let area = 0;
  solution.state.anodeAPerM2.forEach((j, p) => {
    squares += (j * wholeM2 - 1) ** 2 * anodes.areaM2[p];
    area += anodes.areaM2[p];
  });
  return Math.sqrt(squares / area);
}
