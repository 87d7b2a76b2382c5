import type { UnitSystem } from '../../core/units/unit-table.ts';

/** Countries whose shops measure in inches and Fahrenheit: the US, Liberia and Myanmar (CIA World Factbook, appendix G). */
const US_UNITS: readonly (string | undefined)[] = ['US', 'LR', 'MM'];

/** The units to start in where none were chosen yet, by the browser's language tag ("en-US"); metric where it names no country. */
export function usualUnits(language: string): UnitSystem {
  try {
    return US_UNITS.includes(new Intl.Locale(language).region) ? 'us' : 'metric';
  } catch {
    return 'metric';
  }
}
