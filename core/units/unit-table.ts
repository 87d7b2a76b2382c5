/**
 * Every unit that is read or printed, as factor to SI. Exact by definition: inch 25.4 mm, foot 304.8 mm, pound
 * 0.453 592 37 kg (international yard and pound agreement, 1959); US gallon 231 in³; SI brochure for the rest.
 * The program works in SI throughout; these factors are used only where text comes in or goes out.
 */

export type QuantityKind =
  | 'length'
  | 'area'
  | 'volume'
  | 'mass'
  | 'time'
  | 'current'
  | 'voltage'
  | 'charge'
  | 'currentDensity'
  | 'chargePerVolume'
  | 'chargePerArea'
  | 'density'
  | 'massConcentration'
  | 'massPerArea'
  | 'temperature'
  | 'temperatureDifference'
  | 'energy'
  | 'power'
  | 'force'
  | 'resistance'
  | 'conductivity'
  | 'resistivity'
  | 'speed'
  | 'volumeFlow'
  | 'angle'
  | 'fraction'
  | 'count';

export interface Unit {
  /** As printed. */
  readonly symbol: string;
  /** Other spellings accepted when typed. Matching ignores case, blanks, `·`, `*` and `^`. */
  readonly aliases: readonly string[];
  /** SI value of one such unit. */
  readonly toSi: number;
  /** SI value of the scale's zero; only temperatures have one. */
  readonly zeroSi?: number;
}

const INCH_M = 0.0254;
const FOOT_M = 0.3048;
const MIL_M = 25.4e-6;

export const UNITS: Readonly<Record<QuantityKind, readonly Unit[]>> = {
  length: [
    { symbol: 'm', aliases: ['metre', 'meter', 'metres', 'meters'], toSi: 1 },
    { symbol: 'cm', aliases: ['centimetre', 'centimeter'], toSi: 1e-2 },
    { symbol: 'mm', aliases: ['millimetre', 'millimeter'], toSi: 1e-3 },
    { symbol: 'µm', aliases: ['um', 'μm', 'micron', 'microns', 'micrometre', 'my'], toSi: 1e-6 },
    { symbol: 'in', aliases: ['inch', 'inches', '"'], toSi: INCH_M },
    { symbol: 'ft', aliases: ['foot', 'feet'], toSi: FOOT_M },
    { symbol: 'mil', aliases: ['mils', 'thou'], toSi: MIL_M },
  ],
  area: [
    { symbol: 'm²', aliases: ['m2', 'sqm'], toSi: 1 },
    { symbol: 'dm²', aliases: ['dm2', 'sqdm'], toSi: 1e-2 },
    { symbol: 'cm²', aliases: ['cm2', 'sqcm'], toSi: 1e-4 },
    { symbol: 'mm²', aliases: ['mm2', 'sqmm'], toSi: 1e-6 },
    { symbol: 'in²', aliases: ['in2', 'sqin'], toSi: INCH_M ** 2 },
    { symbol: 'ft²', aliases: ['ft2', 'sqft'], toSi: FOOT_M ** 2 },
  ],
  volume: [
    { symbol: 'm³', aliases: ['m3'], toSi: 1 },
    { symbol: 'L', aliases: ['l', 'litre', 'liter', 'litres', 'liters', 'dm3', 'dm³'], toSi: 1e-3 },
    { symbol: 'mL', aliases: ['ml', 'cc', 'cm3', 'cm³'], toSi: 1e-6 },
    { symbol: 'mm³', aliases: ['mm3'], toSi: 1e-9 },
    { symbol: 'in³', aliases: ['in3'], toSi: INCH_M ** 3 },
    { symbol: 'US gal', aliases: ['gal', 'gallon', 'gallons', 'usgal'], toSi: 231 * INCH_M ** 3 },
    { symbol: 'US qt', aliases: ['qt', 'quart', 'quarts'], toSi: (231 * INCH_M ** 3) / 4 },
    { symbol: 'fl oz', aliases: ['floz', 'fluid ounce', 'fluid ounces'], toSi: (231 * INCH_M ** 3) / 128 },
  ],
  mass: [
    { symbol: 'kg', aliases: [], toSi: 1 },
    { symbol: 'g', aliases: ['gram', 'grams'], toSi: 1e-3 },
    { symbol: 'mg', aliases: [], toSi: 1e-6 },
    { symbol: 'lb', aliases: ['lbs', 'pound', 'pounds'], toSi: 0.45359237 },
    { symbol: 'oz', aliases: ['ounce', 'ounces'], toSi: 0.45359237 / 16 },
  ],
  time: [
    { symbol: 's', aliases: ['sec', 'second', 'seconds'], toSi: 1 },
    { symbol: 'min', aliases: ['minute', 'minutes'], toSi: 60 },
    { symbol: 'h', aliases: ['hour', 'hours', 'hr'], toSi: 3600 },
  ],
  current: [
    { symbol: 'A', aliases: ['amp', 'amps', 'ampere', 'amperes'], toSi: 1 },
    { symbol: 'mA', aliases: ['milliamp', 'milliamps'], toSi: 1e-3 },
  ],
  voltage: [
    { symbol: 'V', aliases: ['volt', 'volts'], toSi: 1 },
    { symbol: 'mV', aliases: [], toSi: 1e-3 },
  ],
  charge: [
    { symbol: 'C', aliases: ['coulomb', 'coulombs', 'As'], toSi: 1 },
    { symbol: 'A·h', aliases: ['Ah', 'A.h', 'amphour', 'amphours'], toSi: 3600 },
    { symbol: 'A·min', aliases: ['Amin', 'A.min'], toSi: 60 },
  ],
  currentDensity: [
    { symbol: 'A/m²', aliases: ['A/m2'], toSi: 1 },
    { symbol: 'A/dm²', aliases: ['A/dm2'], toSi: 100 },
    { symbol: 'mA/cm²', aliases: ['mA/cm2'], toSi: 10 },
    { symbol: 'A/ft²', aliases: ['A/ft2', 'ASF', 'A/sqft'], toSi: 1 / FOOT_M ** 2 },
    { symbol: 'A/in²', aliases: ['A/in2'], toSi: 1 / INCH_M ** 2 },
  ],
  chargePerVolume: [
    { symbol: 'C/m³', aliases: ['C/m3'], toSi: 1 },
    { symbol: 'C/cm²/µm', aliases: ['C/cm2/um'], toSi: 1e4 / 1e-6 },
    { symbol: 'A·min/ft²/mil', aliases: ['A.min/ft2/mil', 'Amin/ft2/mil'], toSi: 60 / FOOT_M ** 2 / MIL_M },
    { symbol: 'A·min/dm²/µm', aliases: ['A.min/dm2/um', 'Amin/dm2/um'], toSi: 60 / 1e-2 / 1e-6 },
    { symbol: 'A·h/m²/µm', aliases: ['A.h/m2/um', 'Ah/m2/um'], toSi: 3600 / 1e-6 },
  ],
  chargePerArea: [
    { symbol: 'C/m²', aliases: ['C/m2'], toSi: 1 },
    { symbol: 'A·min/dm²', aliases: ['A.min/dm2'], toSi: 60 / 1e-2 },
    { symbol: 'A·min/ft²', aliases: ['A.min/ft2'], toSi: 60 / FOOT_M ** 2 },
  ],
  density: [
    { symbol: 'kg/m³', aliases: ['kg/m3'], toSi: 1 },
    { symbol: 'g/cm³', aliases: ['g/cm3', 'g/mL'], toSi: 1000 },
  ],
  massConcentration: [
    { symbol: 'kg/m³', aliases: ['kg/m3'], toSi: 1 },
    { symbol: 'g/L', aliases: ['g/l'], toSi: 1 },
    { symbol: 'oz/US gal', aliases: ['oz/gal', 'oz/usgal'], toSi: 0.45359237 / 16 / (231 * INCH_M ** 3) },
  ],
  massPerArea: [
    { symbol: 'kg/m²', aliases: ['kg/m2'], toSi: 1 },
    { symbol: 'g/m²', aliases: ['g/m2'], toSi: 1e-3 },
    { symbol: 'mg/cm²', aliases: ['mg/cm2'], toSi: 1e-2 },
    { symbol: 'mg/dm²', aliases: ['mg/dm2'], toSi: 1e-4 },
    { symbol: 'mg/ft²', aliases: ['mg/ft2'], toSi: 1e-6 / FOOT_M ** 2 },
  ],
  temperature: [
    { symbol: 'K', aliases: ['kelvin'], toSi: 1 },
    { symbol: '°C', aliases: ['C', 'degC', 'celsius'], toSi: 1, zeroSi: 273.15 },
    { symbol: '°F', aliases: ['F', 'degF', 'fahrenheit'], toSi: 5 / 9, zeroSi: 273.15 - (32 * 5) / 9 },
  ],
  temperatureDifference: [
    { symbol: 'K', aliases: ['°C', 'C'], toSi: 1 },
    { symbol: '°F', aliases: ['F'], toSi: 5 / 9 },
  ],
  energy: [
    { symbol: 'J', aliases: ['joule', 'joules'], toSi: 1 },
    { symbol: 'kJ', aliases: [], toSi: 1000 },
    { symbol: 'W·h', aliases: ['Wh'], toSi: 3600 },
  ],
  power: [
    { symbol: 'W', aliases: ['watt', 'watts'], toSi: 1 },
    { symbol: 'kW', aliases: [], toSi: 1000 },
  ],
  force: [
    { symbol: 'N', aliases: ['newton', 'newtons'], toSi: 1 },
    { symbol: 'lbf', aliases: [], toSi: 0.45359237 * 9.80665 },
  ],
  resistance: [
    { symbol: 'Ω', aliases: ['ohm', 'ohms'], toSi: 1 },
    { symbol: 'mΩ', aliases: ['mohm', 'milliohm'], toSi: 1e-3 },
  ],
  conductivity: [
    { symbol: 'S/m', aliases: [], toSi: 1 },
    { symbol: 'S/cm', aliases: [], toSi: 100 },
  ],
  resistivity: [
    { symbol: 'Ω·m', aliases: ['ohm.m'], toSi: 1 },
    { symbol: 'µΩ·cm', aliases: ['uohm.cm'], toSi: 1e-8 },
  ],
  speed: [
    { symbol: 'm/s', aliases: [], toSi: 1 },
    { symbol: 'µm/min', aliases: ['um/min'], toSi: 1e-6 / 60 },
    { symbol: 'mil/min', aliases: [], toSi: MIL_M / 60 },
    { symbol: 'nm/min', aliases: [], toSi: 1e-9 / 60 },
  ],
  volumeFlow: [
    { symbol: 'm³/s', aliases: ['m3/s'], toSi: 1 },
    { symbol: 'm³/h', aliases: ['m3/h'], toSi: 1 / 3600 },
    { symbol: 'L/h', aliases: ['l/h'], toSi: 1e-3 / 3600 },
    { symbol: 'US gal/h', aliases: ['gal/h'], toSi: (231 * INCH_M ** 3) / 3600 },
    { symbol: 'ft³/min', aliases: ['ft3/min', 'cfm'], toSi: FOOT_M ** 3 / 60 },
  ],
  angle: [
    { symbol: 'rad', aliases: ['radian', 'radians'], toSi: 1 },
    { symbol: '°', aliases: ['deg', 'degree', 'degrees'], toSi: Math.PI / 180 },
  ],
  fraction: [
    { symbol: '', aliases: [], toSi: 1 },
    { symbol: '%', aliases: ['percent'], toSi: 0.01 },
  ],
  count: [{ symbol: '', aliases: ['pcs', 'pc', 'pieces'], toSi: 1 }],
};

export type UnitSystem = 'metric' | 'us';
