import type { Reading } from './readings.ts';

/** Readings that come faster than the rules need them are taken together, a few seconds at a time. */
export interface ReadingBins {
  /** The mean of the readings so far once they span long enough. */
  readonly add: (reading: Reading, usualStepS: number) => Reading | undefined;
}

const BIN_S = 4;

export function createReadingBins(): ReadingBins {
  let bin: Reading[] = [];
  return {
    add: (reading, usualStepS) => {
      bin.push(reading);
      const spanS = reading.tS - bin[0]!.tS + Math.min(usualStepS, BIN_S);
      if (spanS < BIN_S - 1e-6 && usualStepS < BIN_S) return undefined;
      const mean = meanReading(bin);
      bin = [];
      return mean;
    },
  };
}

function meanReading(bin: readonly Reading[]): Reading {
  const mean = (values: readonly number[]): number =>
    values.reduce((sum, value) => sum + value, 0) / values.length;
  const warm = bin.flatMap(({ bathTemperatureK }) =>
    bathTemperatureK === undefined ? [] : [bathTemperatureK],
  );
  return {
    tS: bin.at(-1)!.tS,
    voltageV: mean(bin.map((reading) => reading.voltageV)),
    currentA: mean(bin.map((reading) => reading.currentA)),
    ...(warm.length > 0 ? { bathTemperatureK: mean(warm) } : {}),
  };
}
