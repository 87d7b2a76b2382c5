import { resistivityAt, type HangerMetal } from './hanger-materials.ts';

/** What carries heat away from a wire: all at the film temperature, half-way between wire and surroundings. */
export interface FluidProperties {
  readonly conductivityWPerMK: number;
  readonly kinematicViscosityM2PerS: number;
  readonly prandtl: number;
  readonly expansionPerK: number;
}

export type Surroundings = 'air' | 'bath';

const GRAVITY_M_PER_S2 = 9.80665;
/** CODATA 2018, exact. */
const STEFAN_BOLTZMANN = 5.670374419e-8;

/**
 * Mean Nusselt number of a long horizontal cylinder in still fluid (Churchill & Chu, Int. J. Heat Mass Transfer 18
 * (1975) 1049). Valid for Rayleigh numbers to 1e12; the authors' data scatter by about ±10 %.
 */
export function churchillChuCylinder(rayleigh: number, prandtl: number): number {
  if (!(rayleigh >= 0 && rayleigh <= 1e12))
    throw new RangeError(`churchillChuCylinder: rayleigh is ${rayleigh}`);
  if (!(prandtl > 0)) throw new RangeError(`churchillChuCylinder: prandtl is ${prandtl}`);
  const shape = (1 + (0.559 / prandtl) ** (9 / 16)) ** (8 / 27);
  return (0.6 + (0.387 * rayleigh ** (1 / 6)) / shape) ** 2;
}

/**
 * Dry air at 101 325 Pa: viscosity and conductivity by Sutherland's formulas of the U.S. Standard Atmosphere, 1976;
 * density by the gas law; heat capacity 1006 J/kg/K. Within 2 % of handbook tables from 250 to 500 K.
 */
export function airAt(temperatureK: number): FluidProperties {
  if (!(temperatureK >= 200 && temperatureK <= 900))
    throw new RangeError(`airAt: temperatureK is ${temperatureK}`);
  const t = temperatureK;
  const viscosity = (1.458e-6 * t ** 1.5) / (t + 110.4);
  const conductivityWPerMK = (2.64638e-3 * t ** 1.5) / (t + 245.4 * 10 ** (-12 / t));
  const density = 101_325 / (287.053 * t);
  return {
    conductivityWPerMK,
    kinematicViscosityM2PerS: viscosity / density,
    prandtl: (viscosity * 1006) / conductivityWPerMK,
    expansionPerK: 1 / t,
  };
}

/**
 * Saturated water: temperature K, conductivity W/m/K, viscosity µPa·s, density kg/m³, Prandtl number, expansion
 * 1e-6/K. Incropera & DeWitt, Fundamentals of Heat and Mass Transfer, Table A.6 (from memory). Stands in for the
 * bath: 15-20 % acid conducts about a tenth less and is up to twice as viscous, which costs about 15 % of the cooling.
 */
const WATER: readonly (readonly [number, number, number, number, number, number])[] = [
  [275, 0.574, 1652, 1000, 12.22, -32.74],
  [280, 0.582, 1422, 1000, 10.26, 46.04],
  [290, 0.598, 1080, 999, 7.56, 174],
  [300, 0.613, 855, 997, 5.83, 276.1],
  [310, 0.628, 695, 993, 4.62, 361.9],
  [320, 0.64, 577, 989, 3.77, 436.7],
  [330, 0.65, 489, 984, 3.15, 504],
  [340, 0.66, 420, 979, 2.66, 566],
  [350, 0.668, 365, 974, 2.29, 624.2],
  [360, 0.674, 324, 967, 2.02, 697.9],
  [370, 0.679, 289, 961, 1.8, 728.7],
];

/**
 * Acid stays liquid below water's freezing point. Down there the coldest row stands in: it no longer expands on warming,
 * so heat goes by conduction alone, which hardly changes with temperature and is the least there can be.
 */
const COLDEST_WATER_K = WATER[0]![0];

/** Linear between the rows. Below 275 K and above 370 K a RangeError: the caller keeps to liquid baths. */
export function waterAt(temperatureK: number): FluidProperties {
  const at = WATER.findIndex((row) => row[0] >= temperatureK);
  if (at < 0 || temperatureK < WATER[0][0]) throw new RangeError(`waterAt: temperatureK is ${temperatureK}`);
  const high = WATER[at];
  const low = WATER[Math.max(0, at - 1)];
  const share = high[0] > low[0] ? (temperatureK - low[0]) / (high[0] - low[0]) : 0;
  const mix = (k: 1 | 2 | 3 | 4 | 5): number => low[k] + share * (high[k] - low[k]);
  return {
    conductivityWPerMK: mix(1),
    kinematicViscosityM2PerS: (mix(2) * 1e-6) / mix(3),
    prandtl: mix(4),
    expansionPerK: mix(5) * 1e-6,
  };
}

/** Heat that a metre of wire gives off, W/m: free convection, and radiation where there is air around it. */
export function heatLossWPerM(
  diameterM: number,
  wireK: number,
  aroundK: number,
  surroundings: Surroundings,
  emissivity: number,
): number {
  const rise = wireK - aroundK;
  const film = (wireK + aroundK) / 2;
  const fluid = surroundings === 'air' ? airAt(film) : waterAt(Math.max(COLDEST_WATER_K, film));
  // Water near 4 °C hardly expands; what is left then is conduction, the lowest there can be.
  const rayleigh =
    (GRAVITY_M_PER_S2 * Math.max(0, fluid.expansionPerK) * rise * diameterM ** 3 * fluid.prandtl) /
    fluid.kinematicViscosityM2PerS ** 2;
  const h = (churchillChuCylinder(rayleigh, fluid.prandtl) * fluid.conductivityWPerMK) / diameterM;
  const radiation = surroundings === 'air' ? emissivity * STEFAN_BOLTZMANN * (wireK ** 4 - aroundK ** 4) : 0;
  return Math.PI * diameterM * (h * rise + radiation);
}

/** Steady current at which one wire is `riseK` warmer than what is around it, A: I²ρ/A = heat given off. */
export function currentForRiseA(
  metal: HangerMetal,
  diameterM: number,
  riseK: number,
  aroundK: number,
  surroundings: Surroundings,
): number {
  const area = (Math.PI * diameterM ** 2) / 4;
  const loss = heatLossWPerM(diameterM, aroundK + riseK, aroundK, surroundings, metal.emissivity);
  return Math.sqrt((loss * area) / resistivityAt(metal, aroundK + riseK));
}

/** Warmest a wire is followed to: beyond that it anneals, boils the bath, or burns. */
const AIR_CEILING_K = 573;
const WATER_CEILING_K = 373;

/**
 * Rise of one wire that carries `currentA`, K, or undefined when it would get hotter than 300 °C in air or boil the
 * bath. Bisection to 1e-6 K; heat loss grows faster with temperature than resistance does, so there is one answer.
 */
export function riseForCurrentK(
  metal: HangerMetal,
  diameterM: number,
  currentA: number,
  aroundK: number,
  surroundings: Surroundings,
): number | undefined {
  let low = 0;
  let high =
    (surroundings === 'air' ? AIR_CEILING_K : Math.min(WATER_CEILING_K, 2 * 370 - aroundK)) - aroundK;
  if (!(high > 0)) throw new RangeError(`riseForCurrentK: aroundK is ${aroundK}`);
  if (currentForRiseA(metal, diameterM, high, aroundK, surroundings) < currentA) return undefined;
  while (high - low > 1e-6) {
    const middle = (low + high) / 2;
    if (currentForRiseA(metal, diameterM, middle, aroundK, surroundings) < currentA) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}
