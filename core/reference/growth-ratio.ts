import type { Source } from '../figure/figure.ts';

export const COATING_TYPES = ['ordinary', 'hard'] as const;
/** `ordinary` is the usual sulfuric film (type II), `hard` the cold one (type III). */
export type CoatingType = (typeof COATING_TYPES)[number];

export interface GrowthRatio {
  /** Build-up over film thickness: what stands above the old surface. */
  readonly usual: number;
  readonly low: number;
  readonly high: number;
  readonly conditions: string;
  readonly source: Source;
}

/**
 * How much of a film stands out. The charge balance of the 720 rule gives 0.37 for the ordinary film if all current
 * makes oxide or dissolves metal, an independent check on the nominal third.
 */
export const GROWTH_RATIO: Readonly<Record<CoatingType, GrowthRatio>> = {
  ordinary: {
    usual: 1 / 3,
    low: 0.3,
    high: 0.4,
    conditions: 'sulfuric bath near 20 °C, wrought alloys',
    source: {
      standing: 'published',
      text: 'open trade answer: two thirds in, one third out (nominal); range common practice, charge balance of the 720 rule gives 0.37',
    },
  },
  hard: {
    usual: 0.5,
    low: 0.45,
    high: 0.55,
    conditions: 'cold bath, 2.5-4 A/dm²',
    source: { standing: 'published', text: 'open trade answer: half in, half out (45-55 %)' },
  },
};
