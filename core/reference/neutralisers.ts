/**
 * What neutralises sulfuric acid. Molar masses from IUPAC 2021 atomic weights (Na 22.990, C 12.011, Ca 40.078);
 * the rest is common practice.
 */
export interface Neutraliser {
  readonly id: 'baking soda' | 'washing soda' | 'slaked lime' | 'lye';
  readonly formula: string;
  readonly kgPerMol: number;
  /** Moles of acid hydrogen one mole takes up. */
  readonly equivalents: 1 | 2;
  /** Moles of carbon dioxide one mole gives off. */
  readonly carbonDioxide: 0 | 1;
  /** Moles of gypsum (CaSO₄·2H₂O, 172.17 g/mol) one mole makes. */
  readonly gypsum: 0 | 1;
  readonly bestFor: string;
  readonly caution: string;
}

export const GYPSUM_KG_PER_MOL = 0.17217;

export const NEUTRALISERS: readonly Neutraliser[] = [
  {
    id: 'baking soda',
    formula: 'NaHCO₃',
    kgPerMol: 0.084006,
    equivalents: 1,
    carbonDioxide: 1,
    gypsum: 0,
    bestFor: 'Spills: it can not be overdone, stops foaming when the acid is gone.',
    caution: 'Foams hard: sprinkle from the rim inwards, keep your face away, ventilate.',
  },
  {
    id: 'washing soda',
    formula: 'Na₂CO₃',
    kgPerMol: 0.105987,
    equivalents: 2,
    carbonDioxide: 1,
    gypsum: 0,
    bestFor: 'Spent bath in small portions: less powder than baking soda, stays in solution.',
    caution: 'Foams and goes alkaline when overdone: check with pH paper.',
  },
  {
    id: 'slaked lime',
    formula: 'Ca(OH)₂',
    kgPerMol: 0.074092,
    equivalents: 2,
    carbonDioxide: 0,
    gypsum: 1,
    bestFor: 'Larger amounts of spent bath: cheap, makes no gas, settles as gypsum sludge with the metals.',
    caution: 'Warms up, burns the eyes, leaves a lot of sludge to hand in.',
  },
  {
    id: 'lye',
    formula: 'NaOH',
    kgPerMol: 0.039997,
    equivalents: 1,
    carbonDioxide: 0,
    gypsum: 0,
    bestFor: 'Only thin, cold and in trained hands.',
    caution:
      'Boils and spits with acid that is not thin: dilute both far below 5 %, add slowly, never to a spill.',
  },
];

/** Heat of a strong acid with a strong base, J per mole of acid hydrogen (from memory). */
export const NEUTRALISATION_J_PER_MOL = 57_000;
