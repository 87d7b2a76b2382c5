import type { Figure } from '../figure/figure.ts';
import { leastSquares, outliersOf, studentT95, type LinearFit } from './least-squares.ts';
import { ownRuns, tooLittle, type Learnt } from './learnt.ts';

/** The steady part of a run: means of what was read. */
export interface SteadyRun {
  readonly voltageV: number;
  readonly currentDensityAPerM2: number;
  readonly bathTemperatureK: number;
}

/** V = V₀ + b · (j − j₀) + c · (T − T₀), with j₀ and T₀ the means of the runs. */
export interface LearntVoltage {
  readonly voltageV: number;
  readonly voltageSdV: number;
  readonly densityAPerM2: number;
  readonly temperatureK: number;
  /** null where the runs are too alike to tell. */
  readonly slopeVM2PerA: number | null;
  readonly slopeSdVM2PerA: number | null;
  readonly perKelvinV: number | null;
  readonly perKelvinSdV: number | null;
  /** A single run's about the fit. */
  readonly residualSdV: number;
}

const NEEDED = 4;
/** Runs must differ by this much for a slope to be more than noise. */
const SMALLEST_DENSITY_SPREAD = 0.1;
const SMALLEST_TEMPERATURE_SPREAD_K = 1;

export function learnVoltage(runs: readonly SteadyRun[]): Learnt<LearntVoltage> {
  runs.forEach((run, i) => {
    for (const name of ['voltageV', 'currentDensityAPerM2', 'bathTemperatureK'] as const) {
      if (!(run[name] > 0)) throw new RangeError(`learnVoltage: ${name} of run ${i} is ${run[name]}`);
    }
  });
  if (runs.length < NEEDED) return tooLittle(runs.length, NEEDED, 'voltage, current and bath temperature');
  const first = fit(runs)!;
  const outliers = outliersOf(first.fit.residuals);
  const used = runs.filter((_, i) => !outliers.includes(i));
  const kept = used.length >= NEEDED;
  const chosen = kept ? used : runs;
  const { fit: line, density, temperature, j0, t0, remarks } = fit(chosen)!;
  const t95 = line.freedom > 0 ? studentT95(line.freedom) : Infinity;
  const source = ownRuns(chosen.length);
  const at = (index: number): { value: number; sd: number } => ({
    value: line.coefficients[index]!,
    sd: line.deviations[index]!,
  });
  const voltage = at(0);
  const slope = density > 0 ? at(density) : null;
  const perKelvin = temperature > 0 ? at(temperature) : null;
  const figures: Figure[] = [
    {
      label: 'Voltage of this shop',
      kind: 'voltage',
      valueSi: voltage.value,
      ...(line.freedom > 0
        ? { lowSi: voltage.value - t95 * voltage.sd, highSi: voltage.value + t95 * voltage.sd }
        : {}),
      formula: 'V = V₀ + b · (j − j₀) + c · (T − T₀), least squares',
      inputs: [
        { symbol: 'j₀', label: 'mean density', kind: 'currentDensity', valueSi: j0 },
        { symbol: 'T₀', label: 'mean bath temperature', kind: 'temperature', valueSi: t0, unit: '°C' },
        { symbol: 'n', label: 'runs', kind: 'count', valueSi: chosen.length },
      ],
      source,
    },
  ];
  return {
    state: 'offered',
    value: {
      voltageV: voltage.value,
      voltageSdV: voltage.sd,
      densityAPerM2: j0,
      temperatureK: t0,
      slopeVM2PerA: slope?.value ?? null,
      slopeSdVM2PerA: slope?.sd ?? null,
      perKelvinV: perKelvin?.value ?? null,
      perKelvinSdV: perKelvin?.sd ?? null,
      residualSdV: line.residualSd,
    },
    count: chosen.length,
    outliers: kept ? outliers : [],
    figures,
    remarks,
  };
}

interface Fitted {
  readonly fit: LinearFit;
  /** Place of the slope among the coefficients; 0 where it is not fitted. */
  readonly density: number;
  readonly temperature: number;
  readonly j0: number;
  readonly t0: number;
  readonly remarks: readonly string[];
}

function fit(runs: readonly SteadyRun[]): Fitted | undefined {
  const mean = (pick: (run: SteadyRun) => number): number =>
    runs.reduce((sum, run) => sum + pick(run), 0) / runs.length;
  const range = (pick: (run: SteadyRun) => number): number =>
    Math.max(...runs.map(pick)) - Math.min(...runs.map(pick));
  const j0 = mean((run) => run.currentDensityAPerM2);
  const t0 = mean((run) => run.bathTemperatureK);
  const remarks: string[] = [];
  const columns = [new Float64Array(runs.length).fill(1)];
  let density = 0;
  let temperature = 0;
  if (range((run) => run.currentDensityAPerM2) >= SMALLEST_DENSITY_SPREAD * j0) {
    density = columns.push(Float64Array.from(runs, (run) => run.currentDensityAPerM2 - j0)) - 1;
  } else remarks.push('All runs had nearly the same current density, so its effect can’t be told.');
  if (range((run) => run.bathTemperatureK) >= SMALLEST_TEMPERATURE_SPREAD_K) {
    temperature = columns.push(Float64Array.from(runs, (run) => run.bathTemperatureK - t0)) - 1;
  } else remarks.push('All runs had nearly the same bath temperature, so its effect can’t be told.');
  const values = Float64Array.from(runs, (run) => run.voltageV);
  const whole = leastSquares(columns, values);
  if (whole) return { fit: whole, density, temperature, j0, t0, remarks };
  // Density and temperature went hand in hand: only the level is left.
  const level = leastSquares(columns.slice(0, 1), values);
  return (
    level && {
      fit: level,
      density: 0,
      temperature: 0,
      j0,
      t0,
      remarks: [
        'Density and temperature changed together in all runs, so their effects can’t be told apart.',
      ],
    }
  );
}
