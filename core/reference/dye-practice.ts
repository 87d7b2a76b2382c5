import type { Source } from '../figure/figure.ts';

export const SHADES = ['pastel', 'bright', 'black'] as const;
export type Shade = (typeof SHADES)[number];

/** How dyes for anodized aluminium are usually run. The maker's own sheet comes first. */
export const DYE_PRACTICE = {
  concentrationKgPerM3: { low: 2, high: 10, blackLow: 8, blackHigh: 12 },
  temperatureK: { low: 323.15, high: 338.15 },
  ph: { low: 5, high: 6 },
  timeS: { low: 300, high: 900 },
  /** Thinnest film that holds the shade. */
  thicknessM: { pastel: 8e-6, bright: 10e-6, black: 20e-6 } satisfies Record<Shade, number>,
  /** With high-strength black. */
  strongBlackM: 10e-6,
  source: {
    standing: 'from memory',
    text: 'handbooks: 2-10 g/L, 50-65 °C, pH 5-6, 5-15 min; 8, 10-12, 20 µm for pastel, bright, black; high-strength black from 10 µm (“All About Dyes”, trade journal)',
  } satisfies Source,
} as const;

/** Activation energy of dye uptake, J/mol. */
export const DYE_ACTIVATION = {
  low: 20_000,
  usual: 30_000,
  high: 45_000,
  source: {
    standing: 'from memory',
    text: 'uptake of dyes by anodic film, 20-45 kJ/mol, +25 to +70 % per 10 K',
  } satisfies Source,
} as const;
