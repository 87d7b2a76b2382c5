import { fitPowerLaw } from '../field/electrode-law.ts';
import type { FilmReading } from '../job/job-field.ts';
import type { RunSummary } from './run-summary.ts';

/** More would only repeat what the first say. */
const MOST = 100;

/**
 * Steady voltage against density of the shop's own runs, newest first: real ones, without trouble, with both read. Empty
 * where they do not tell a law: all at one density, or a voltage that does not rise with it.
 */
export function filmReadings(runs: readonly RunSummary[]): FilmReading[] {
  const readings = runs
    .filter(({ simulated, troubled }) => !simulated && !troubled)
    .flatMap(({ steadyVoltageV, steadyCurrentA, areaM2 }): FilmReading[] => {
      if (steadyVoltageV === null || steadyCurrentA === null) return [];
      const currentDensityAPerM2 = steadyCurrentA / areaM2;
      const isUsable = steadyVoltageV > 0 && steadyVoltageV <= 200 && currentDensityAPerM2 > 0;
      return isUsable && currentDensityAPerM2 <= 5000
        ? [{ currentDensityAPerM2, voltageV: steadyVoltageV }]
        : [];
    })
    .slice(0, MOST);
  return fitPowerLaw(readings) ? readings : [];
}
