import type { Figure, Source } from '../figure/figure.ts';
import { figureInput } from '../figure/figure-input.ts';
import { failure, success, type Result } from '../result.ts';

/** How much mass a good seal may lose in the acid test: two rules, both met. */
export const MASS_LOSS_LIMITS = {
  iso: {
    kgPerM2: 30e-4,
    source: { standing: 'from memory', text: 'ISO 7599 with ISO 3210: 30 mg/dm²' } satisfies Source,
  },
  aama: {
    kgPerM2: 40e-4,
    source: {
      standing: 'published',
      text: 'AAMA 611 as quoted in an anodizers’ reference guide: 40 mg/dm²',
    } satisfies Source,
  },
} as const;

export interface SealCheck {
  readonly passed: boolean;
  readonly measured: Figure;
  readonly text: string;
}

/**
 * Mass lost in the warm phosphoric-chromic test (ISO 3210, ASTM B680: 38 °C, 15 min; not for hard or dichromate-sealed
 * films; chromium VI, so a laboratory’s work). Fails with `mass-loss-input`.
 */
export function massLossCheck(
  beforeKg: number,
  afterKg: number,
  areaM2: number,
  rule: keyof typeof MASS_LOSS_LIMITS,
): Result<SealCheck> {
  if (!(beforeKg > 0 && afterKg > 0 && afterKg <= beforeKg && areaM2 > 0)) {
    return failure(
      'mass-loss-input',
      'Both masses and the area of the test piece are needed, and it can not gain mass.',
      'Weigh again, dry, to a milligram or better.',
    );
  }
  const limit = MASS_LOSS_LIMITS[rule];
  const loss = (beforeKg - afterKg) / areaM2;
  const passed = loss <= limit.kgPerM2 * (1 + 1e-9);
  return success({
    passed,
    measured: {
      label: 'Mass lost',
      kind: 'massPerArea',
      unit: 'mg/dm²',
      valueSi: loss,
      formula: 'Δm / A',
      inputs: [
        figureInput('m₁', 'before', 'mass', beforeKg),
        figureInput('m₂', 'after', 'mass', afterKg),
        figureInput('A', 'area', 'area', areaM2),
        figureInput('limit', 'most allowed', 'massPerArea', limit.kgPerM2, 'mg/dm²'),
      ],
      source: limit.source,
    },
    text: passed ? 'The seal holds.' : 'The film is not closed: seal it again, hotter or longer.',
  });
}

export type SpotRating = 0 | 1 | 2 | 3 | 4 | 5;

/** Dye-spot test, ISO 2143 / ASTM B136, rating 0 (no stain) to 5; 0-2 pass (from memory). */
export function dyeSpotCheck(rating: SpotRating): SealCheck {
  const passed = rating <= 2;
  return {
    passed,
    measured: {
      label: 'Dye spot',
      kind: 'count',
      valueSi: rating,
      formula: 'rating by eye, 0 no stain to 5 deep stain',
      inputs: [],
      source: { standing: 'from memory', text: 'ISO 2143, ASTM B136: 0-2 pass' },
    },
    text: passed
      ? 'The seal takes no dye.'
      : 'The spot of dye stays: the film is open, so seal it again before it takes up fingerprints.',
  };
}

/** Admittance a sealed film must stay under, siemens: 400/t µS with t in µm, ISO 2931 (from memory). */
export function admittanceLimitS(thicknessM: number): number {
  if (!(thicknessM > 3e-6)) {
    throw new RangeError(`admittanceLimitS: thicknessM is ${thicknessM}; the test is for films over 3 µm`);
  }
  return 400e-12 / thicknessM;
}
