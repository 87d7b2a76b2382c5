import type { Source } from '../figure/figure.ts';

/**
 * Attack of aluminium by lye: one published rate, a published activation energy and an order in the lye read off two
 * handbook ranges. Good to a factor of two: dissolved aluminium, additives and the alloy all move it.
 */
export const LYE_ATTACK = {
  /** Loss of each surface at the reference, m/s. */
  rateMPerS: 17e-6 / 60,
  atK: 353.15,
  /** 10 weight % (density 1.109). */
  atLyeKgPerM3: 110.9,
  activationJPerMol: 46_000,
  order: 0.7,
  lowFactor: 0.5,
  highFactor: 1.8,
  lyeLowKgPerM3: 10,
  lyeHighKgPerM3: 150,
  lowK: 283.15,
  highK: 358.15,
  source: {
    standing: 'from memory',
    text: '10 % lye at 80 °C removes about 1 mm/h (open engineering text); 46 kJ/mol, Trans. Inst. Met. Finish. 54 (1976); order 0.7 fitted to handbook ranges',
  } satisfies Source,
} as const;

/** Beads of lye, as poured. */
export const LYE_BULK_DENSITY_KG_PER_M3 = {
  low: 1100,
  usual: 1150,
  high: 1200,
  source: { standing: 'from memory', text: 'caustic soda beads 70-75 lb/ft³' } satisfies Source,
} as const;

/** Heat set free as lye dissolves to a thin solution, J/mol. */
export const LYE_SOLUTION_J_PER_MOL = {
  value: 44_500,
  source: {
    standing: 'from memory',
    text: 'heat of solution of NaOH −44.5 kJ/mol, handbooks',
  } satisfies Source,
} as const;

/** How long a thin lye takes to strip an ordinary film at room temperature. */
export const STRIP_TIME_S = {
  low: 120,
  usual: 300,
  high: 900,
  lyeKgPerM3: 24,
  source: {
    standing: 'common practice',
    text: 'a third of a cup of lye per US gallon, about five minutes cold; thick, sealed or hard films take longer',
  } satisfies Source,
} as const;
