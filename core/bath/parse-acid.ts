import { strengthFromDensity } from '../reference/sulfuric-density.ts';
import { waterDensityKgPerM3 } from '../reference/water-density.ts';
import { findUnit, fromUnit } from '../units/find-unit.ts';
import { failure, success, type Result } from '../result.ts';
import type { AcidStatement } from './acid-strength.ts';

const TEXT = /^(sg|s\.g\.|gravity|specific gravity)?\s*[=:]?\s*(\d+(?:[.,]\d*)?|[.,]\d+)\s*(.*)$/i;
const GRAVITY_BEHIND = /^(sg|s\.g\.|gravity|specific gravity)$/i;
/** Specific gravities of acid; a bare number in here can be nothing else. */
const GRAVITY_LOW = 1.0005;
const GRAVITY_HIGH = 1.8365;
/** Up to here it is strong acid's, but several strengths have the same. */
const GRAVITY_STRONG = 1.86;

/** "%", "wt%", "per cent by weight"; as German labels have it "Gew.-%", "Ma%", "Masse-%". */
const WEIGHT_PER_CENT =
  /^(wt\.?|weight|gew\.?|gewichts|ma?\.?|masse(n)?)?\s*-?\s*(%|percent|per cent|prozent)(\s*(wt|w\/w|by weight))?$/i;

/** Degrees of the heavy scale, on the drums of acid sold in the US. */
const BAUME = /^(°|deg(rees)?\.?\s*)?(b[eé]|baum[eé])\.?$/i;
const MODULUS = 145;
const SIXTY_FAHRENHEIT_K = 288.706;

/** Specific gravity at 60/60 °F is 145/(145 − °Bé), the US scale for liquids heavier than water; the table does the rest. */
function fromBaume(text: string, degrees: number): Result<AcidStatement> {
  const water = waterDensityKgPerM3(SIXTY_FAHRENHEIT_K);
  if (!water.ok) return water;
  if (degrees > 66.2) {
    return failure(
      'acid-not-read',
      `“${text.trim()}” is no sulfuric acid: that ends near 66 °Bé, 93 %.`,
      'Type the weight per cent that its container says.',
    );
  }
  const density = (MODULUS / (MODULUS - degrees)) * water.value;
  const strength = strengthFromDensity(density, SIXTY_FAHRENHEIT_K);
  return strength.ok ? success({ as: 'massFraction', massFraction: strength.value }) : strength;
}

/**
 * Reads an acid as people write it: "35%" or "35 wt%" (weight per cent), "180 g/L", "24 oz/gal", "1.28 g/cm3",
 * "SG 1.280", "1.280 SG" or a bare "1.280" (specific gravity), "66 °Bé" or "66Be" (degrees Baumé). Any other bare number is refused: per cent and g/L are easily mixed up.
 * Fails with `acid-not-read`, and for degrees Baumé as strengthFromDensity does.
 */
export function parseAcid(text: string): Result<AcidStatement> {
  const match = TEXT.exec(text.trim());
  const remedy = 'Type it with its unit: 35 %, 180 g/L, 1.28 g/cm³, 66 °Bé or SG 1.280.';
  if (!match) return failure('acid-not-read', `“${text.trim()}” is not the strength of an acid.`, remedy);
  const value = Number(match[2]!.replace(',', '.'));
  const unit = match[3]!.trim();
  const isGravity = value >= GRAVITY_LOW && value <= GRAVITY_HIGH;
  const saysGravity = match[1] !== undefined || GRAVITY_BEHIND.test(unit);
  if ((saysGravity || unit === '') && value > GRAVITY_HIGH && value <= GRAVITY_STRONG) {
    return failure(
      'density-not-unique',
      `“${text.trim()}” is the gravity of strong acid, but from about 95 % on it hardly changes with the strength.`,
      'Type the weight per cent that its container says, such as 96 %.',
    );
  }
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
  if (BAUME.test(unit)) return fromBaume(text, value);
  if (WEIGHT_PER_CENT.test(unit)) {
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
