/**
 * The lumped cell: V = E + U + growth + r·I, where U is what it takes to push the live density j through the oxide at
 * the bath's temperature. U is b·j, a straight line with the local slope b, or a power of j through the same point with
 * the same slope there; real cells lie between. Warming acts as a rate: the same U gives j multiplied by the Arrhenius
 * factor of the barrier layer's dissolution, 0.44 eV (Eguchi 1969): 6.1 % per K near 20 °C.
 */
export interface OxideCell {
  /** Density at which the reference voltage holds, A/m². */
  readonly referenceDensityAPerM2: number;
  /** Bath temperature at which it holds. */
  readonly referenceTemperatureK: number;
  /** Film still thin, series resistance not counted. */
  readonly referenceVoltageV: number;
  /** Local slope dV/dj at the reference density, V·m²/A. */
  readonly slopeVM2PerA: number;
  /** 0 straight line, 1 power of j. */
  readonly curvature: number;
  readonly activationEv: number;
}

const BOLTZMANN_EV_PER_K = 8.617333262e-5;
export const DISSOLUTION_ACTIVATION_EV = 0.44;

/** How much faster the film's current runs at `temperatureK` than at `referenceK`, at the same voltage. */
export function arrheniusFactor(activationEv: number, temperatureK: number, referenceK: number): number {
  return Math.exp((activationEv / BOLTZMANN_EV_PER_K) * (1 / referenceK - 1 / temperatureK));
}

/** E + U at a live density, V; growth and series resistance not counted. */
export function cellVoltage(cell: OxideCell, densityAPerM2: number, temperatureK: number): number {
  const rate = arrheniusFactor(cell.activationEv, temperatureK, cell.referenceTemperatureK);
  return voltageAtReducedDensity(cell, densityAPerM2 / rate);
}

function voltageAtReducedDensity(cell: OxideCell, reduced: number): number {
  const rise = cell.slopeVM2PerA * cell.referenceDensityAPerM2;
  const line = cell.referenceVoltageV - rise + cell.slopeVM2PerA * reduced;
  if (cell.curvature === 0) return line;
  const power = rise / cell.referenceVoltageV;
  const bent = cell.referenceVoltageV * (Math.max(reduced, 0) / cell.referenceDensityAPerM2) ** power;
  return line + cell.curvature * (bent - line);
}

/**
 * The current at which E + U·`resistanceFactor` + `extraV` + r·I equals the terminal voltage, A; 0 below the voltage at
 * which the film passes any. Voltage rises with current, so bisection finds the one answer, to 1e-9 of `mostA`.
 */
export function currentAtVoltage(
  voltageAtCurrent: (currentA: number) => number,
  terminalV: number,
  mostA: number,
): number {
  if (voltageAtCurrent(mostA) <= terminalV) return mostA;
  if (voltageAtCurrent(0) >= terminalV) return 0;
  let low = 0;
  let high = mostA;
  for (let i = 0; i < 30; i++) {
    const middle = (low + high) / 2;
    if (voltageAtCurrent(middle) < terminalV) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}
