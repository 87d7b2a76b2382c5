import type { Reading } from './readings.ts';

type Pair = Pick<Reading, 'voltageV' | 'currentA'>;

/** No film of any use grows at the planned current below this, V; common practice. */
const SHORT_V = 3;
const OF_USUAL_V = 0.3;
const OF_USUAL_A = 0.5;

/** The volts below which, by what the run has had, current shows a short. */
export const shortBelowV = (usualV: number): number => Math.min(SHORT_V, OF_USUAL_V * usualV);

/** The voltage has collapsed while current flows. */
export const isShort = ({ voltageV, currentA }: Pair, usual: Pair): boolean =>
  voltageV < shortBelowV(usual.voltageV) && currentA > OF_USUAL_A * usual.currentA;
