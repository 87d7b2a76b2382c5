import type { Source } from '../figure/figure.ts';
import {
  strengthFromConcentration,
  strengthFromDensity,
  sulfuricDensity,
  SULFURIC_DENSITY_SOURCE,
} from '../reference/sulfuric-density.ts';
import { waterDensityKgPerM3 } from '../reference/water-density.ts';
import { failure, success, type Result } from '../result.ts';

/** An acid as its container says it. `specificGravity` is relative to water at the same temperature. */
export type AcidStatement =
  | { readonly as: 'massFraction'; readonly massFraction: number }
  | { readonly as: 'concentration'; readonly acidKgPerM3: number }
  | { readonly as: 'density'; readonly densityKgPerM3: number }
  | { readonly as: 'specificGravity'; readonly specificGravity: number };

export interface AcidStrength {
  /** kg H₂SO₄ per kg. */
  readonly massFraction: number;
  /** At the temperature asked for. */
  readonly densityKgPerM3: number;
  /** kg H₂SO₄ per m³, equal to g/L. */
  readonly acidKgPerM3: number;
  readonly source: Source;
}

/**
 * Strength, density and concentration of an acid from any one of them, at a temperature (0-50 °C).
 * Fails with `strength-out-of-range`, `density-not-unique` (above 96 % by density), `density-below-water` or
 * `outside-table`.
 */
export function acidStrength(statement: AcidStatement, temperatureK: number): Result<AcidStrength> {
  const fraction = massFraction(statement, temperatureK);
  if (!fraction.ok) return fraction;
  const density = sulfuricDensity(fraction.value, temperatureK);
  if (!density.ok) return density;
  return success({
    massFraction: fraction.value,
    densityKgPerM3: density.value.value,
    acidKgPerM3: fraction.value * density.value.value,
    source: SULFURIC_DENSITY_SOURCE,
  });
}

function massFraction(statement: AcidStatement, temperatureK: number): Result<number> {
  switch (statement.as) {
    case 'massFraction':
      if (!(statement.massFraction >= 0 && statement.massFraction <= 1)) {
        return failure(
          'strength-out-of-range',
          'A strength in weight per cent lies between 0 and 100.',
          'Type the weight per cent printed on the container.',
        );
      }
      return success(statement.massFraction);
    case 'concentration':
      return strengthFromConcentration(statement.acidKgPerM3, temperatureK);
    case 'density':
      return strengthFromDensity(statement.densityKgPerM3, temperatureK);
    case 'specificGravity': {
      const water = waterDensityKgPerM3(temperatureK);
      return water.ok ? strengthFromDensity(statement.specificGravity * water.value, temperatureK) : water;
    }
  }
}
