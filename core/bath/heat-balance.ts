import { waterActivity, saturationPressurePa } from '../reference/water-vapour.ts';
import { EVAPORATION_J_PER_KG } from '../reference/thermochemistry.ts';
import { failure, success, type Result } from '../result.ts';

/** What the bath gives to and takes from its surroundings, W; `bathK` is the state. */
export interface HeatPaths {
  readonly airK: number;
  /** 0-1. */
  readonly relativeHumidity: number;
  /** Open surface; 0 for a covered tank. */
  readonly surfaceM2: number;
  /** Convection and radiation of the surface, 8-12 W/(m²·K). */
  readonly surfaceWPerM2K: number;
  readonly wallM2: number;
  readonly wallWPerM2K: number;
  /** Power of pump or paddle that ends up in the bath. */
  readonly stirringW: number;
  /** Taken at any temperature, by whatever takes it; below zero where it warms. Absent for none. */
  readonly steadyLossW?: number;
  readonly chillerW: number;
  /** The chiller works above this, at full power half a kelvin over it. */
  readonly chillerSetK: number;
}

export interface HeatRun {
  readonly startK: number;
  /** Mass times heat capacity of the bath, J/K. */
  readonly capacityJPerK: number;
  readonly massFraction: number;
  readonly currentA: number;
  readonly voltageV: number;
  /** Heat of the reaction as volts on top of the cell voltage. */
  readonly reactionV: number;
  readonly rampS: number;
  /** At full current. */
  readonly holdS: number;
  /** Current off afterwards. */
  readonly restS: number;
  /** Ideal cooling that never lets the bath above this; absent for none. */
  readonly holdAtK?: number;
}

/** Where the heat went, J, positive as named; `stored` closes the balance. */
export interface HeatTally {
  readonly endK: number;
  readonly warmestK: number;
  readonly electricJ: number;
  readonly reactionJ: number;
  readonly stirringJ: number;
  /** Of the steady loss. */
  readonly steadyLossJ: number;
  readonly lostToAirJ: number;
  readonly lostToWallsJ: number;
  readonly evaporatedJ: number;
  readonly chilledJ: number;
  /** Taken by the ideal cooling. */
  readonly heldJ: number;
  readonly storedJ: number;
  readonly evaporatedKg: number;
}

/** Open still pool: W per m² of surface and Pa of vapour pressure difference (ASHRAE pool equation, no air movement). */
export const POOL_W_PER_M2_PA = 0.089;
const CHILLER_BAND_K = 0.5;
const LEAST_STEPS = 240;
const MOST_STEPS = 200_000;

/**
 * Bath temperature over one run: m·c·dT/dt = I·(V + U) + stirring − air − walls − evaporation − chiller, current rising
 * evenly over the ramp, full voltage from the start (a little more heat than really comes). Classical Runge-Kutta on the
 * temperature and, with it, on each path, so the balance closes to rounding. Steps are short enough for the chiller’s
 * half-kelvin band. Fails with `outside-table` when the bath leaves −10 to 60 °C or the acid is above 28 %.
 */
export function heatBalance(run: HeatRun, paths: HeatPaths): Result<HeatTally> {
  check(run, paths);
  const activity = waterActivity(run.massFraction);
  if (!activity.ok) return activity;
  const airVapour = saturationPressurePa(paths.airK);
  if (!airVapour.ok) return airVapour;
  const dampPa = airVapour.value * paths.relativeHumidity;
  const conductance = paths.surfaceM2 * paths.surfaceWPerM2K + paths.wallM2 * paths.wallWPerM2K;
  const fastestPerS = (paths.chillerW / CHILLER_BAND_K + conductance * 2) / run.capacityJPerK;
  /** Rates of electric, reaction, air, walls, evaporation, chiller at a current and temperature, W, into `r`. */
  const rates = (r: Float64Array, currentA: number, bathK: number): void => {
    const t = bathK - 273.15;
    const vapourPa = 611.21 * Math.exp((18.678 - t / 234.5) * (t / (257.14 + t)));
    const over = Math.min(1, Math.max(0, (bathK - paths.chillerSetK) / CHILLER_BAND_K));
    r[0] = currentA * run.voltageV;
    r[1] = currentA * run.reactionV;
    r[2] = paths.surfaceM2 * paths.surfaceWPerM2K * (bathK - paths.airK);
    r[3] = paths.wallM2 * paths.wallWPerM2K * (bathK - paths.airK);
    r[4] = paths.surfaceM2 * POOL_W_PER_M2_PA * (activity.value * vapourPa - dampPa);
    r[5] = paths.chillerW * over;
  };
  const k1 = new Float64Array(6);
  const k2 = new Float64Array(6);
  const k3 = new Float64Array(6);
  const k4 = new Float64Array(6);
  const moved = new Float64Array(6);
  // What goes in whatever the temperature is.
  const steadyW = paths.stirringW - (paths.steadyLossW ?? 0);
  const net = (r: Float64Array): number => r[0]! + r[1]! + steadyW - r[2]! - r[3]! - r[4]! - r[5]!;
  const tally = new Float64Array(6);
  let bathK = run.startK;
  let warmestK = bathK;
  let heldJ = 0;
  const phases = [
    { seconds: run.rampS, from: 0, to: run.currentA },
    { seconds: run.holdS, from: run.currentA, to: run.currentA },
    { seconds: run.restS, from: 0, to: 0 },
  ];
  for (const phase of phases) {
    if (phase.seconds === 0) continue;
    const steps = Math.min(MOST_STEPS, Math.max(LEAST_STEPS, Math.ceil(phase.seconds * fastestPerS * 2)));
    const h = phase.seconds / steps;
    for (let step = 0; step < steps; step++) {
      const at = (part: number): number => phase.from + ((phase.to - phase.from) * (step + part)) / steps;
      rates(k1, at(0), bathK);
      rates(k2, at(0.5), bathK + (h / 2) * (net(k1) / run.capacityJPerK));
      rates(k3, at(0.5), bathK + (h / 2) * (net(k2) / run.capacityJPerK));
      rates(k4, at(1), bathK + h * (net(k3) / run.capacityJPerK));
      for (let i = 0; i < 6; i++) {
        moved[i] = (h / 6) * (k1[i]! + 2 * k2[i]! + 2 * k3[i]! + k4[i]!);
        tally[i]! += moved[i]!;
      }
      const gainedJ = moved[0]! + moved[1]! + steadyW * h - moved[2]! - moved[3]! - moved[4]! - moved[5]!;
      bathK += gainedJ / run.capacityJPerK;
      if (run.holdAtK !== undefined && bathK > run.holdAtK) {
        heldJ += (bathK - run.holdAtK) * run.capacityJPerK;
        bathK = run.holdAtK;
      }
      warmestK = Math.max(warmestK, bathK);
      if (!(bathK > 263.15 && bathK < 333.15)) {
        return failure(
          'bath-out-of-range',
          'By this balance the bath would leave −10 to 60 °C, which no anodizing run survives.',
          'Use more bath, less current, more cooling or shorter runs.',
        );
      }
    }
  }
  const totalS = run.rampS + run.holdS + run.restS;
  return success({
    endK: bathK,
    warmestK,
    electricJ: tally[0]!,
    reactionJ: tally[1]!,
    stirringJ: paths.stirringW * totalS,
    steadyLossJ: (paths.steadyLossW ?? 0) * totalS,
    lostToAirJ: tally[2]!,
    lostToWallsJ: tally[3]!,
    evaporatedJ: tally[4]!,
    chilledJ: tally[5]!,
    heldJ,
    storedJ: (bathK - run.startK) * run.capacityJPerK,
    evaporatedKg: tally[4]! / EVAPORATION_J_PER_KG,
  });
}

function check(run: HeatRun, paths: HeatPaths): void {
  const values: Record<string, number> = {
    capacityJPerK: run.capacityJPerK,
    currentA: run.currentA,
    voltageV: run.voltageV,
    rampS: run.rampS,
    holdS: run.holdS,
    restS: run.restS,
    surfaceM2: paths.surfaceM2,
    surfaceWPerM2K: paths.surfaceWPerM2K,
    wallM2: paths.wallM2,
    wallWPerM2K: paths.wallWPerM2K,
    stirringW: paths.stirringW,
    chillerW: paths.chillerW,
  };
  for (const [name, value] of Object.entries(values)) {
    if (!(value >= 0 && Number.isFinite(value))) throw new RangeError(`heatBalance: ${name} is ${value}`);
  }
  if (run.capacityJPerK === 0) throw new RangeError('heatBalance: capacityJPerK is 0');
}
