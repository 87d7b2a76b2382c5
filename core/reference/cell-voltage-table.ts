import type { Source } from '../figure/figure.ts';
import type { CurveTable } from './curve-table.ts';

/** Cell voltage of an ordinary sulfuric bath against current density; middle and half-width of the range met. */
export const CELL_VOLTAGE: CurveTable = {
  name: 'voltage of a sulfuric bath',
  argument: 'current densities',
  argumentUnit: 'A/m²',
  valueUnit: 'V',
  conditions: '15 weight % (165 g/L), 20-21 °C, wrought alloys, stirred',
  source: {
    standing: 'from memory',
    text: 'finishing handbooks: 9-12, 13-16, 14-17, 16-19, 18-22 V, ±2 V, at 0.65, 1.25, 1.5, 2.0, 2.6 A/dm²',
  },
  rows: [
    [64.58, 10.5, 2],
    [125, 14.5, 2],
    [150, 15.5, 2],
    [200, 17.5, 2],
    [260, 20, 2],
  ],
};
export const CELL_VOLTAGE_AT = { temperatureK: 293.65, acidKgPerM3: 165 } as const;

/** Local slope of voltage against current density near 1.3 A/dm², V·m²/A. */
export const VOLTAGE_SLOPE_V_M2_PER_A = { low: 0.03, usual: 0.04, high: 0.05 } as const;

/**
 * How the rate at a fixed voltage follows temperature and acid (Eguchi, J. Met. Finish. Soc. Japan 20 (1969) 207):
 * activation energy 0.44 eV, acid to the power 0.81.
 */
export const RATE_LAW = {
  activationEv: 0.44,
  acidOrder: 0.81,
  source: {
    standing: 'published',
    text: 'Eguchi, J. Met. Finish. Soc. Japan 20 (1969) 207: 0.44 eV, acid to the power 0.81',
  } satisfies Source,
} as const;

/** Hard coat near 0 °C: voltage at the start and at 50 µm. */
export const HARD_COAT_VOLTAGE = {
  lowDensityAPerM2: 250,
  highDensityAPerM2: 390,
  lowK: 268.15,
  highK: 278.15,
  startV: { low: 20, high: 30 },
  endV: { low: 40, high: 75 },
  endThicknessM: 50e-6,
  source: {
    standing: 'from memory',
    text: 'handbooks, hard coat at 0 °C, 2.5-3.9 A/dm², 165-200 g/L: 20-30 V rising to 40-75 V at 50 µm',
  } satisfies Source,
} as const;

/** What an ordinary film adds as it grows, V per m of film. */
export const FILM_VOLTAGE_V_PER_M = { low: 0, high: 1e5 } as const;
