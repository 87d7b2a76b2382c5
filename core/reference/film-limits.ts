import type { Source } from '../figure/figure.ts';

/**
 * How long a film can grow before the acid has eaten its pore walls through. Wall 0.80 nm/V (Keller, Hunter and
 * Robinson, J. Electrochem. Soc. 100 (1953) 411); it is attacked from both of its sides, so the whole wall of 12 nm at
 * 15 V goes at the rate below.
 */
export const WALL_M_PER_V = 0.8e-9;

/** Chemical attack of a pore wall in 15-20 % acid. */
export const WALL_DISSOLUTION = {
  at20C: { low: 0.05e-9 / 60, usual: 0.1e-9 / 60, high: 0.2e-9 / 60 },
  /** Factor per 10 K. */
  per10K: { low: 1.8, usual: 2.1, high: 2.5 },
  lowK: 263.15,
  highK: 308.15,
  source: {
    standing: 'from memory',
    text: 'order of magnitude: pore walls lose 0.05-0.2 nm/min at 20 °C, 1.8-2.5 times that for every 10 K; acid order as Eguchi 1969',
  } satisfies Source,
} as const;

/** What shops reach near 20 °C before the film chalks. */
export const PRACTICAL_CEILING = {
  lowM: 25e-6,
  highM: 30e-6,
  fromK: 291.15,
  source: {
    standing: 'from memory',
    text: 'handbooks: 25-30 µm at 20-22 °C before chalking; 50 µm and more needs a cold bath',
  } satisfies Source,
} as const;
