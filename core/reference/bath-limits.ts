import type { Source } from '../figure/figure.ts';

/** Dissolved aluminium in a sulfuric bath, kg/m³ (equal to g/L). */
export const ALUMINIUM_LIMITS = {
  startKgPerM3: 4,
  idealLowKgPerM3: 4,
  idealHighKgPerM3: 12,
  warnKgPerM3: 15,
  limitKgPerM3: 20,
  source: {
    standing: 'published',
    text: '“Titrating Sulfuric Acid Anodizing Baths”, trade journal, and an open titration note: 4-12 g/L ideal, 15-20 g/L the limit',
  } satisfies Source,
} as const;

/** Bath carried out on the parts, m³ per m² of part. */
export const DRAG_OUT_M3_PER_M2 = {
  low: 0.05e-3,
  usual: 0.1e-3,
  high: 0.2e-3,
  source: {
    standing: 'from memory',
    text: 'drag-out 50-200 mL per m² of part, well or badly drained',
  } satisfies Source,
} as const;

/** Bath temperatures, K: below, within and above. */
export const BATH_TEMPERATURE = {
  ordinary: { lowK: 291.15, usualK: 294.15, highK: 297.15 },
  hard: { lowK: 268.15, usualK: 273.15, highK: 278.15 },
  source: {
    standing: 'published',
    text: 'Metal Finishing Guidebook: 20-22 °C (18-24) for decorative work; trade journal: 0 ± 2 °C for hard coat',
  } satisfies Source,
} as const;
