import type { FigureInput } from '../figure/figure.ts';
import type { BusEnd } from '../job/job-hanging.ts';

/** What of the bus bars hangs into the bath in every load, whatever hangs from it. */
export interface WettedBusEnds {
  /** Takes current in each load, m². */
  readonly areaM2: number;
  readonly inputs: readonly FigureInput[];
}

export const NO_BUS_ENDS: WettedBusEnds = { areaM2: 0, inputs: [] };

/**
 * Area of bus ends below the level, each with one free end: round π·d·l + π·d²/4, flat 2(w + t)·l + w·t. Aluminium is coated
 * like the part; titanium's own oxide stops the current at these voltages (common practice).
 */
export function wettedBusEnds(ends: readonly BusEnd[]): WettedBusEnds {
  const wetted = ends.filter(({ material }) => !material.startsWith('Ti'));
  return {
    areaM2: wetted.reduce((sum, end) => sum + end.count * oneEndM2(end), 0),
    inputs: wetted.flatMap((end, i) => [
      {
        symbol: `B${i + 1}`,
        label: `bus end of ${end.material} below the level`,
        kind: 'area',
        valueSi: oneEndM2(end),
      },
      { symbol: `m${i + 1}`, label: 'how many of it in each load', kind: 'count', valueSi: end.count },
    ]),
  };
}

function oneEndM2({ widthM, thicknessM, lengthBelowM }: BusEnd): number {
  return thicknessM === null
    ? Math.PI * widthM * lengthBelowM + (Math.PI * widthM * widthM) / 4
    : 2 * (widthM + thicknessM) * lengthBelowM + widthM * thicknessM;
}
