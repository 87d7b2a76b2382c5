import { findUnit, fromUnit } from '../units/find-unit.ts';
import { failure, success, type Result } from '../result.ts';
import type { AcidStatement } from './acid-strength.ts';

const TEXT = /^(sg|s\.g\.|gravity|specific gravity)?\s*[=:]?\s*(\d+(?:[.,]\d*)?|[.,]\d+)\s*(.*)$/i;
const GRAVITY_BEHIND = /^(sg|s\.g\.|gravity|specific gravity)$/i;
/** Specific gravities of acid; a bare number in here can be nothing else. */
const GRAVITY_LOW = 1.0005;
const GRAVITY_HIGH = 1.8365;

/**
 * Reads an acid as people write it: "35%" or "35 wt%" (weight per cent), "180 g/L", "24 oz/gal", "1.28 g/cm3",
 * "SG 1.280", "1.280 SG" or a bare "1.280" (specific gravity). Any other bare number is refused: per cent and g/L are easily mixed up.
 * Fails with `acid-not-read`.
 */
export function parseAcid(text: string): Result<AcidStatement> {
  const match = TEXT.exec(text.trim());
  const remedy = 'Type it with its unit: 35 %, 180 g/L, 1.28 g/cm³ or SG 1.280.';
  if (!match) return failure('acid-not-read', `“${text.trim()}” is not the strength of an acid.`, remedy);
  const value = Number(match[2]!.replace(',', '.'));
  const unit = match[3]!.trim();
  const isGravity = value >= GRAVITY_LOW && value <= GRAVITY_HIGH;
  const saysGravity = match[1] !== undefined || GRAVITY_BEHIND.test(unit);
  if (saysGravity || unit === '') {
    if (isGravity && (unit === '' || match[1] === undefined)) {
      return success({ as: 'specificGravity', specificGravity: value });
    }
    return saysGravity
      ? failure(
          'acid-not-read',
          `“${text.trim()}” is no specific gravity of sulfuric acid: that lies between 1.001 and 1.836.`,
          remedy,
        )
      : failure('acid-not-read', `“${text.trim()}” has no unit and is no specific gravity.`, remedy);
  }
  if (/^(wt\.?|weight)?\s*(%|percent|per cent)(\s*(wt|w\/w|by weight))?$/i.test(unit)) {
    if (value > 100) {
      return failure(
        'acid-not-read',
        `“${text.trim()}” can not be: acid alone is 100 %.`,
        `Type weight per cent up to 100, or ${match[2]} g/L if that was meant.`,
      );
    }
    return success({ as: 'massFraction', massFraction: value / 100 });
  }
  const density = findUnit('density', unit);
  const concentration = findUnit('massConcentration', unit);
  // kg/m³ is both; an acid's density in it is far above 1000, its strength of a bath far below.
  if (concentration && !(density && value > 1000)) {
    return success({ as: 'concentration', acidKgPerM3: fromUnit(value, concentration) });
  }
  if (density) return success({ as: 'density', densityKgPerM3: fromUnit(value, density) });
  return failure('acid-not-read', `“${unit}” is not a unit of strength.`, remedy);
}
