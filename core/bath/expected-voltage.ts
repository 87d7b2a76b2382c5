import type { Figure, Source } from '../figure/figure.ts';
import { figureInput } from '../figure/figure-input.ts';
import {
  CELL_VOLTAGE,
  CELL_VOLTAGE_AT,
  FILM_VOLTAGE_V_PER_M,
  HARD_COAT_VOLTAGE,
  RATE_LAW,
  VOLTAGE_SLOPE_V_M2_PER_A,
} from '../reference/cell-voltage-table.ts';
import { readCurve } from '../reference/curve-table.ts';
import { BOLTZMANN_EV_PER_K } from '../reference/thermochemistry.ts';
import { failure, success, type Result } from '../result.ts';
import { beyond } from './beyond-range.ts';

/** The conditions a voltage belongs to. */
export interface CellConditions {
  readonly currentDensityAPerM2: number;
  readonly temperatureK: number;
  readonly acidKgPerM3: number;
}

/** A voltage the shop has read on its own tank, current steady, film thin. */
export interface OwnVoltage extends CellConditions {
  readonly voltageV: number;
}

export interface ExpectedVoltage {
  /** Once the current is steady. */
  readonly start: Figure;
  /** At the planned thickness. */
  readonly end: Figure;
  readonly ownRunsUsed: number;
}

/** Where the handbook rows and the rate law hold. */
export const ORDINARY_BATH = {
  bathsK: { low: 287.15, high: 299.15 },
  acids: { low: 100, high: 250 },
} as const;
const DENSITIES = { low: CELL_VOLTAGE.rows[0]![0], high: CELL_VOLTAGE.rows.at(-1)![0] } as const;
const NEAR_DENSITY_RATIO = 1.5;
const NEAR_K = 6;
const NEAR_ACID_RATIO = 1.3;
/** How far the local slope is trusted where no table stands beside it: 1 A/dm². */
const OWN_SLOPE_REACH_A_PER_M2 = 100;
/** What one tank's voltage still moves from run to run when there is only one run to go by. */
const ONE_RUN_HALF_WIDTH_V = 1.5;

/**
 * How much faster film would grow at the same voltage than at the table's conditions: 0.44 eV, acid^0.81.
 */
export function rateFactor(temperatureK: number, acidKgPerM3: number): number {
  if (!(temperatureK > 0 && acidKgPerM3 > 0)) {
    throw new RangeError(`rateFactor: temperatureK is ${temperatureK}, acidKgPerM3 is ${acidKgPerM3}`);
  }
  const inverse = 1 / CELL_VOLTAGE_AT.temperatureK - 1 / temperatureK;
  return (
    Math.exp((RATE_LAW.activationEv / BOLTZMANN_EV_PER_K) * inverse) *
    (acidKgPerM3 / CELL_VOLTAGE_AT.acidKgPerM3) ** RATE_LAW.acidOrder
  );
}

/**
 * Expected cell voltage with its range. Ordinary baths (14-26 °C, 0.65-2.6 A/dm²): the handbook row at this density,
 * less b·j·ln f, where f is `rateFactor` and b the local slope; the shop's own readings near these conditions shift it
 * and set its range, and stand alone where nothing is published. Hard coat (−5 to 5 °C, 2.5-3.9 A/dm²): the handbook range, straight to its end at 50 µm.
 * Fails with `voltage-unknown` where neither holds.
 */
export function expectedVoltage(
  at: CellConditions,
  thicknessM: number,
  ownRuns: readonly OwnVoltage[] = [],
): Result<ExpectedVoltage> {
  if (!(thicknessM >= 0)) throw new RangeError(`expectedVoltage: thicknessM is ${thicknessM}`);
  if (isHardCoat(at)) return success(hardCoat(at, thicknessM, ownRuns));
  const near = ownRuns.filter((run) => isNear(run, at));
  const model = ordinaryVoltage(at);
  if (!model.ok) {
    const close = near.filter((run) => densityApart(at, run) <= OWN_SLOPE_REACH_A_PER_M2);
    return close.length > 0 ? success(ownAlone(at, thicknessM, close)) : model;
  }
  const shifts = near.flatMap((run) => {
    const own = ordinaryVoltage(run);
    return own.ok ? [run.voltageV - own.value.volts] : [];
  });
  const own = shifts.length > 0;
  const shift = own ? mean(shifts) : 0;
  const half = own ? ownHalfWidth(shifts) : model.value.half;
  const volts = Math.max(0, model.value.volts + shift);
  const source: Source = own
    ? {
        standing: 'your own runs',
        text: `${shifts.length} of your own readings; trend from ${RATE_LAW.source.text}`,
      }
    : {
        standing: CELL_VOLTAGE.source.standing,
        text: `${CELL_VOLTAGE.source.text}; ${RATE_LAW.source.text}`,
      };
  return success({
    ...overThickness(at, thicknessM, {
      volts,
      half,
      formula: 'V = V_table(j) − b · j · ln(f), f = e^(0.44 eV/k · (1/T₀ − 1/T)) · (c/c₀)^0.81',
      source,
    }),
    ownRunsUsed: shifts.length,
  });
}

const densityApart = (a: CellConditions, b: CellConditions): number =>
  Math.abs(a.currentDensityAPerM2 - b.currentDensityAPerM2);

const ownHalfWidth = (readings: readonly number[]): number =>
  Math.max(1, readings.length > 1 ? 2 * deviation(readings) : ONE_RUN_HALF_WIDTH_V);

/** Where nothing is published: the shop's own readings near by, brought to this density by the local slope. */
function ownAlone(at: CellConditions, thicknessM: number, near: readonly OwnVoltage[]): ExpectedVoltage {
  const b = VOLTAGE_SLOPE_V_M2_PER_A;
  const moved = near.map((run) =>
    Math.max(0, run.voltageV + b.usual * (at.currentDensityAPerM2 - run.currentDensityAPerM2)),
  );
  const slopeHalf = (b.high - b.usual) * Math.max(...near.map((run) => densityApart(at, run)));
  return {
    ...overThickness(at, thicknessM, {
      volts: mean(moved),
      half: Math.hypot(ownHalfWidth(moved), slopeHalf),
      formula: 'V = V_own + b · (j − j_own)',
      source: {
        standing: 'your own runs',
        text: `${near.length} of your own readings near these conditions; local slope 0.04 V·m²/A (0.03-0.05) from memory`,
      },
    }),
    ownRunsUsed: near.length,
  };
}

interface SteadyVoltage {
  readonly volts: number;
  readonly half: number;
  readonly formula: string;
  readonly source: Source;
}

/** What an ordinary film adds on top of a steady voltage as it grows. */
function overThickness(
  at: CellConditions,
  thicknessM: number,
  { volts, half, formula, source }: SteadyVoltage,
): { start: Figure; end: Figure } {
  const inputs = conditionInputs(at, thicknessM);
  const grown = [FILM_VOLTAGE_V_PER_M.low * thicknessM, FILM_VOLTAGE_V_PER_M.high * thicknessM] as const;
  return {
    start: {
      label: 'Voltage, current steady',
      kind: 'voltage',
      valueSi: volts,
      lowSi: Math.max(0, volts - half),
      highSi: volts + half,
      formula,
      inputs,
      source,
    },
    end: {
      label: 'Voltage at the end',
      kind: 'voltage',
      valueSi: volts + (grown[0] + grown[1]) / 2,
      lowSi: Math.max(0, volts - half + grown[0]),
      highSi: volts + half + grown[1],
      formula: 'V_end = V + 0 to 1 V for every 10 µm',
      inputs,
      source,
    },
  };
}

function ordinaryVoltage(at: CellConditions): Result<{ volts: number; half: number }> {
  const outside = [
    beyond('the current density', 'currentDensity', at.currentDensityAPerM2, DENSITIES, 'A/dm²', 'A/ft²'),
    beyond('the bath’s temperature', 'temperature', at.temperatureK, ORDINARY_BATH.bathsK, '°C', '°F'),
    beyond('its acid', 'massConcentration', at.acidKgPerM3, ORDINARY_BATH.acids, 'g/L', 'g/L'),
  ].filter((text) => text !== null);
  const row = readCurve(CELL_VOLTAGE, at.currentDensityAPerM2);
  if (!row.ok || outside.length > 0) {
    return failure(
      'voltage-unknown',
      `No published voltage holds here: ${outside.join('; ')}.`,
      'Note the voltage of a first run and take it over in the logbook; after that the program goes by your own readings.',
    );
  }
  const b = VOLTAGE_SLOPE_V_M2_PER_A;
  const correction = -at.currentDensityAPerM2 * Math.log(rateFactor(at.temperatureK, at.acidKgPerM3));
  return success({
    volts: row.value.value + b.usual * correction,
    half: Math.hypot(row.value.uncertainty, (b.high - b.usual) * correction),
  });
}

function isHardCoat(at: CellConditions): boolean {
  const hard = HARD_COAT_VOLTAGE;
  return (
    at.temperatureK >= hard.lowK &&
    at.temperatureK <= hard.highK &&
    at.currentDensityAPerM2 >= hard.lowDensityAPerM2 &&
    at.currentDensityAPerM2 <= hard.highDensityAPerM2
  );
}

function hardCoat(at: CellConditions, thicknessM: number, ownRuns: readonly OwnVoltage[]): ExpectedVoltage {
  const hard = HARD_COAT_VOLTAGE;
  const near = ownRuns.filter((run) => isHardCoat(run) && isNear(run, at)).map((run) => run.voltageV);
  const own = near.length > 0;
  const half = near.length > 1 ? Math.max(1, 2 * deviation(near)) : ONE_RUN_HALF_WIDTH_V;
  const start = own
    ? { low: mean(near) - half, high: mean(near) + half }
    : { low: hard.startV.low, high: hard.startV.high };
  const share = thicknessM / hard.endThicknessM;
  const rise = { low: hard.endV.low - hard.startV.low, high: hard.endV.high - hard.startV.high };
  const end = { low: start.low + rise.low * share, high: start.high + rise.high * share };
  const source: Source = own
    ? {
        standing: 'your own runs',
        text: `${near.length} of your own readings; rise from ${hard.source.text}`,
      }
    : hard.source;
  const inputs = conditionInputs(at, thicknessM);
  return {
    start: {
      label: 'Voltage, current steady',
      kind: 'voltage',
      valueSi: (start.low + start.high) / 2,
      lowSi: start.low,
      highSi: start.high,
      formula: 'range met in practice',
      inputs,
      source,
    },
    end: {
      label: 'Voltage at the end',
      kind: 'voltage',
      valueSi: (end.low + end.high) / 2,
      lowSi: end.low,
      highSi: end.high,
      formula: 'V_end = V + (20 to 45 V) · d / 50 µm',
      inputs,
      source,
    },
    ownRunsUsed: near.length,
  };
}

const conditionInputs = (at: CellConditions, thicknessM: number) => [
  figureInput('j', 'current density', 'currentDensity', at.currentDensityAPerM2),
  figureInput('T', 'bath', 'temperature', at.temperatureK),
  figureInput('c', 'sulfuric acid', 'massConcentration', at.acidKgPerM3, 'g/L'),
  figureInput('d', 'thickness', 'length', thicknessM, 'µm'),
];

const within = (a: number, b: number, ratio: number): boolean => a / b <= ratio && b / a <= ratio;

function isNear(run: OwnVoltage, at: CellConditions): boolean {
  return (
    within(run.currentDensityAPerM2, at.currentDensityAPerM2, NEAR_DENSITY_RATIO) &&
    within(run.acidKgPerM3, at.acidKgPerM3, NEAR_ACID_RATIO) &&
    Math.abs(run.temperatureK - at.temperatureK) <= NEAR_K
  );
}

const mean = (values: readonly number[]): number => values.reduce((sum, v) => sum + v, 0) / values.length;

function deviation(values: readonly number[]): number {
  const centre = mean(values);
  return Math.sqrt(values.reduce((sum, v) => sum + (v - centre) ** 2, 0) / (values.length - 1));
}
