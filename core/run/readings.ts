/** Where readings come from; `simulated` is carried to everything made from them. */
export const READING_ORIGINS = ['supply', 'log', 'typed', 'simulated'] as const;
export type ReadingOrigin = (typeof READING_ORIGINS)[number];

/** One look at the supply. */
export interface Reading {
  /** Seconds since the run's own zero. */
  readonly tS: number;
  readonly voltageV: number;
  readonly currentA: number;
  readonly bathTemperatureK?: number;
}

/** A run's readings as columns of equal length, times never falling. */
export interface Readings {
  readonly origin: ReadingOrigin;
  readonly tS: Float64Array;
  readonly voltageV: Float64Array;
  readonly currentA: Float64Array;
  /** NaN where the temperature was not read; null where it never was. */
  readonly bathTemperatureK: Float64Array | null;
}

/** Throws RangeError for a value that is not finite or a time that goes back. */
export function readingsFrom(list: readonly Reading[], origin: ReadingOrigin): Readings {
  const count = list.length;
  const tS = new Float64Array(count);
  const voltageV = new Float64Array(count);
  const currentA = new Float64Array(count);
  const temperature = list.some((reading) => reading.bathTemperatureK !== undefined)
    ? new Float64Array(count).fill(NaN)
    : null;
  for (let i = 0; i < count; i++) {
    const reading = list[i]!;
    tS[i] = reading.tS;
    voltageV[i] = reading.voltageV;
    currentA[i] = reading.currentA;
    if (temperature && reading.bathTemperatureK !== undefined) temperature[i] = reading.bathTemperatureK;
  }
  const readings: Readings = { origin, tS, voltageV, currentA, bathTemperatureK: temperature };
  checkReadings(readings);
  return readings;
}

export function readingAt(readings: Readings, index: number): Reading {
  if (!(Number.isInteger(index) && index >= 0 && index < readings.tS.length)) {
    throw new RangeError(`readingAt: index is ${index}`);
  }
  const kelvin = readings.bathTemperatureK?.[index];
  return {
    tS: readings.tS[index]!,
    voltageV: readings.voltageV[index]!,
    currentA: readings.currentA[index]!,
    ...(kelvin !== undefined && !Number.isNaN(kelvin) ? { bathTemperatureK: kelvin } : {}),
  };
}

/** Throws RangeError naming the column that is not what `Readings` promises. */
export function checkReadings(readings: Readings): void {
  const { tS, voltageV, currentA, bathTemperatureK } = readings;
  const count = tS.length;
  if (voltageV.length !== count)
    throw new RangeError(`readings: voltageV has ${voltageV.length} of ${count}`);
  if (currentA.length !== count)
    throw new RangeError(`readings: currentA has ${currentA.length} of ${count}`);
  if (bathTemperatureK && bathTemperatureK.length !== count) {
    throw new RangeError(`readings: bathTemperatureK has ${bathTemperatureK.length} of ${count}`);
  }
  for (let i = 0; i < count; i++) {
    if (!Number.isFinite(tS[i])) throw new RangeError(`readings: tS[${i}] is ${tS[i]}`);
    if (!Number.isFinite(voltageV[i])) throw new RangeError(`readings: voltageV[${i}] is ${voltageV[i]}`);
    if (!Number.isFinite(currentA[i])) throw new RangeError(`readings: currentA[${i}] is ${currentA[i]}`);
    if (i > 0 && tS[i]! < tS[i - 1]!) throw new RangeError(`readings: tS[${i}] goes back to ${tS[i]}`);
    const kelvin = bathTemperatureK?.[i];
    if (kelvin === Infinity || kelvin === -Infinity) {
      throw new RangeError(`readings: bathTemperatureK[${i}] is ${kelvin}`);
    }
  }
}
