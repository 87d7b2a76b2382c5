import { toUnit, unitBySymbol } from './find-unit.ts';
import type { QuantityKind, UnitSystem } from './unit-table.ts';

/** The unit a kind is printed in unless the place asks for another. */
const PREFERRED: Readonly<Record<QuantityKind, readonly [metric: string, us: string]>> = {
  length: ['mm', 'in'],
  area: ['cm²', 'in²'],
  volume: ['L', 'US gal'],
  mass: ['g', 'oz'],
  time: ['min', 'min'],
  current: ['A', 'A'],
  voltage: ['V', 'V'],
  charge: ['A·h', 'A·h'],
  currentDensity: ['A/dm²', 'A/ft²'],
  chargePerVolume: ['A·min/dm²/µm', 'A·min/ft²/mil'],
  chargePerArea: ['A·min/dm²', 'A·min/ft²'],
  density: ['g/cm³', 'g/cm³'],
  massConcentration: ['g/L', 'g/L'],
  massPerArea: ['mg/cm²', 'mg/ft²'],
  temperature: ['°C', '°F'],
  temperatureDifference: ['K', '°F'],
  energy: ['kJ', 'kJ'],
  power: ['W', 'W'],
  force: ['N', 'lbf'],
  resistance: ['mΩ', 'mΩ'],
  conductivity: ['S/m', 'S/m'],
  resistivity: ['µΩ·cm', 'µΩ·cm'],
  speed: ['µm/min', 'mil/min'],
  volumeFlow: ['L/h', 'US gal/h'],
  angle: ['°', '°'],
  fraction: ['%', '%'],
  count: ['', ''],
};

export function preferredUnit(kind: QuantityKind, system: UnitSystem): string {
  return PREFERRED[kind][system === 'metric' ? 0 : 1];
}

/** US pounds from one pound on, fluid ounces below a quart: what a scale and a jug there are marked in. */
const POUND_KG = 0.45359237;
const QUART_M3 = 0.946352946e-3;

/**
 * The unit a value reads well in. Metric: the unit the place asks for, or the kind's preferred one. US: its counterpart
 * there, by size; laboratory glass (mL, mg) is in metric units everywhere. A hollow of a part is asked for in in³ and said in mL
 * to a metric reader.
 */
export function readableUnit(
  kind: QuantityKind,
  valueSi: number,
  system: UnitSystem,
  asked?: string,
): string {
  if (system === 'metric') return asked === 'in³' ? 'mL' : (asked ?? preferredUnit(kind, system));
  if (asked === 'µm') return 'mil';
  if (asked === 'mL' || asked === 'mg' || asked === 'in³') return asked;
  if (asked === 'm³/h') return 'ft³/min';
  if (kind === 'mass') return Math.abs(valueSi) >= POUND_KG ? 'lb' : 'oz';
  if (kind === 'volume') return Math.abs(valueSi) >= QUART_M3 || valueSi === 0 ? 'US gal' : 'fl oz';
  return preferredUnit(kind, system);
}

/** Prints an SI value in the unit it reads well in. */
export function sayQuantity(
  kind: QuantityKind,
  valueSi: number,
  system: UnitSystem,
  asked?: string,
  significantDigits = 3,
): string {
  return formatIn(kind, valueSi, readableUnit(kind, valueSi, system, asked), significantDigits).text;
}

/** Prints an SI value in both systems' units, the reader's own first: "25.1 °C (77.2 °F)". */
export function sayBoth(
  kind: QuantityKind,
  valueSi: number,
  system: UnitSystem,
  units: readonly [metric: string, us: string],
  significantDigits = 3,
): string {
  const [metric, us] = units.map((unit) => formatIn(kind, valueSi, unit, significantDigits).text);
  return system === 'us' ? `${us} (${metric})` : `${metric} (${us})`;
}

/**
 * Rounds to significant digits and prints without exponent. Whole digits are never rounded away: 1234.5 at three
 * digits prints 1235. Non-finite values are a caller's bug and throw RangeError, so that none reaches the user.
 */
export function formatNumber(value: number, significantDigits = 3): string {
  if (!Number.isFinite(value)) throw new RangeError(`formatNumber: value is ${value}`);
  if (value === 0) return '0';
  const wholeDigits = Math.floor(Math.log10(Math.abs(value))) + 1;
  const decimals = Math.min(12, Math.max(0, significantDigits - wholeDigits));
  const text = value.toFixed(decimals);
  return Number(text) === 0 ? '0' : text;
}

export interface FormattedQuantity {
  readonly number: string;
  readonly unit: string;
  /** Number, thin gap and unit, as printed in running text. */
  readonly text: string;
}

/** Prints an SI value of a kind in `unit` (a symbol of the table). */
export function formatIn(
  kind: QuantityKind,
  valueSi: number,
  unit: string,
  significantDigits = 3,
): FormattedQuantity {
  const number = formatNumber(toUnit(valueSi, unitBySymbol(kind, unit)), significantDigits);
  const glued = unit === '' || unit === '°' || unit === '%';
  return { number, unit, text: glued ? `${number}${unit === '%' ? ' %' : unit}` : `${number} ${unit}` };
}

/** Prints an SI value of a kind in the unit system's preferred unit. */
export function formatQuantity(
  kind: QuantityKind,
  valueSi: number,
  system: UnitSystem,
  significantDigits = 3,
): FormattedQuantity {
  return formatIn(kind, valueSi, preferredUnit(kind, system), significantDigits);
}
