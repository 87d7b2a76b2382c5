import {
  CELL_VOLTAGE,
  HARD_COAT_VOLTAGE,
  VOLTAGE_SLOPE_V_M2_PER_A,
} from '../reference/cell-voltage-table.ts';
import { success, type Result } from '../result.ts';
import {
  expectedVoltage,
  ORDINARY_BATH,
  rateFactor,
  type CellConditions,
  type OwnVoltage,
} from './expected-voltage.ts';

/** Volts that a run’s heat is reckoned with, mean of start and end. */
export interface HeatVoltage {
  readonly valueV: number;
  readonly lowV: number;
  readonly highV: number;
  /** At the planned thickness. */
  readonly endV: number;
  /** How it was come by where nothing is published for these conditions; null where something is. */
  readonly taken: string | null;
}

/**
 * The expected voltage, and beyond what is published a stated bound: the nearest published conditions, moved on by the
 * same trend (b·j·ln f for temperature and acid, b for the current density). The range then holds from no move at all to
 * twice the trend's. Never above what the supply can give. Fails as `expectedVoltage` does for a current density of 0.
 */
export function heatVoltage(
  at: CellConditions,
  thicknessM: number,
  ownRuns: readonly OwnVoltage[],
  supplyLimitV: number | null,
): Result<HeatVoltage> {
  const known = expectedVoltage(at, thicknessM, ownRuns);
  if (known.ok) {
    const { start, end } = known.value;
    return success({
      valueV: (start.valueSi + end.valueSi) / 2,
      lowV: start.lowSi ?? start.valueSi,
      highV: end.highSi ?? end.valueSi,
      endV: end.valueSi,
      taken: null,
    });
  }
  const near = nearestPublished(at);
  const beside = expectedVoltage(near, thicknessM, ownRuns);
  if (!beside.ok) return beside;
  const b = VOLTAGE_SLOPE_V_M2_PER_A.usual;
  const rate = rateFactor(at.temperatureK, at.acidKgPerM3) / rateFactor(near.temperatureK, near.acidKgPerM3);
  const moveV =
    b * (at.currentDensityAPerM2 - near.currentDensityAPerM2) - b * at.currentDensityAPerM2 * Math.log(rate);
  const { start, end } = beside.value;
  const most = supplyLimitV ?? Infinity;
  const within = (volts: number): number => Math.min(most, Math.max(0, volts));
  return success({
    valueV: within((start.valueSi + end.valueSi) / 2 + moveV),
    lowV: within((start.lowSi ?? start.valueSi) + Math.min(0, 2 * moveV)),
    highV: within((end.highSi ?? end.valueSi) + Math.max(0, 2 * moveV)),
    endV: within(end.valueSi + moveV),
    taken: `no published voltage holds here, so the nearest one’s trend was carried on and its range widened${
      supplyLimitV === null ? '' : ', up to what the supply can give'
    }`,
  });
}

const clamp = (value: number, low: number, high: number): number => Math.min(high, Math.max(low, value));

/** The published conditions next to these: hard coat's for a cold bath at a hard coat's density, else an ordinary bath's. */
function nearestPublished(at: CellConditions): CellConditions {
  const hard = HARD_COAT_VOLTAGE;
  const { bathsK, acids } = ORDINARY_BATH;
  const middleK = (hard.highK + bathsK.low) / 2;
  if (at.temperatureK <= middleK && at.currentDensityAPerM2 >= hard.lowDensityAPerM2) {
    return {
      temperatureK: clamp(at.temperatureK, hard.lowK, hard.highK),
      currentDensityAPerM2: clamp(at.currentDensityAPerM2, hard.lowDensityAPerM2, hard.highDensityAPerM2),
      acidKgPerM3: at.acidKgPerM3,
    };
  }
  return {
    temperatureK: clamp(at.temperatureK, bathsK.low, bathsK.high),
    currentDensityAPerM2: clamp(
      at.currentDensityAPerM2,
      CELL_VOLTAGE.rows[0]![0],
      CELL_VOLTAGE.rows.at(-1)![0],
    ),
    acidKgPerM3: clamp(at.acidKgPerM3, acids.low, acids.high),
  };
}
