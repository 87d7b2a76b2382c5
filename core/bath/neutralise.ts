import type { Figure, Source } from '../figure/figure.ts';
import { figureInput } from '../figure/figure-input.ts';
import {
  GYPSUM_KG_PER_MOL,
  NEUTRALISATION_J_PER_MOL,
  NEUTRALISERS,
  type Neutraliser,
} from '../reference/neutralisers.ts';
import { SULFURIC_KG_PER_MOL } from '../reference/sulfuric-heat-of-solution.ts';
import { ALUMINIUM_KG_PER_MOL, gasM3PerMol } from '../reference/thermochemistry.ts';
import { failure, success, type Result } from '../result.ts';

export interface Neutralising {
  readonly neutraliser: Neutraliser;
  readonly mass: Figure;
  /** Null where no gas comes off. */
  readonly carbonDioxide: Figure | null;
  /** Dry gypsum; null except with lime. */
  readonly sludge: Figure | null;
  /** Warming of the undiluted liquid if it were added at once; null for the soda ones, which hardly warm. */
  readonly riseIfAtOnce: Figure | null;
  readonly steps: readonly string[];
}

const SOURCE: Source = {
  standing: 'definition',
  text: 'two acid hydrogens per mole of sulfuric acid, three hydroxides per mole of aluminium; atomic weights IUPAC 2021',
};
/** Of thin acid, near enough to water for a warning. */
const LIQUID_J_PER_M3_K = 4.0e6;

/**
 * How much of each neutraliser a volume of bath takes, free acid and dissolved aluminium (to its hydroxide) counted.
 * Fails with `nothing-to-neutralise`.
 */
export function neutralise(
  volumeM3: number,
  freeAcidKgPerM3: number,
  aluminiumKgPerM3: number,
  roomK: number,
): Result<readonly Neutralising[]> {
  if (!(volumeM3 > 0 && freeAcidKgPerM3 >= 0 && aluminiumKgPerM3 >= 0)) {
    return failure(
      'nothing-to-neutralise',
      'There is no acid to neutralise.',
      'Type the volume and strength of the spill or spent bath.',
    );
  }
  const acidMol = (volumeM3 * freeAcidKgPerM3) / SULFURIC_KG_PER_MOL;
  const hydrogenMol = 2 * acidMol + (3 * volumeM3 * aluminiumKgPerM3) / ALUMINIUM_KG_PER_MOL;
  const inputs = [
    figureInput('V', 'liquid', 'volume', volumeM3),
    figureInput('c', 'free acid', 'massConcentration', freeAcidKgPerM3, 'g/L'),
    figureInput('Al', 'dissolved aluminium', 'massConcentration', aluminiumKgPerM3, 'g/L'),
  ];
  return success(NEUTRALISERS.map((neutraliser) => one(neutraliser)));

  function one(neutraliser: Neutraliser): Neutralising {
    const mol = hydrogenMol / neutraliser.equivalents;
    const strong = neutraliser.carbonDioxide === 0;
    return {
      neutraliser,
      mass: {
        label: `${neutraliser.id} (${neutraliser.formula})`,
        kind: 'mass',
        ...(mol * neutraliser.kgPerMol >= 1 ? { unit: 'kg' } : {}),
        valueSi: mol * neutraliser.kgPerMol,
        formula: 'm = V · (2 · c / 98.08 + 3 · Al / 26.98) · M / z',
        inputs,
        source: SOURCE,
      },
      carbonDioxide: strong
        ? null
        : {
            label: 'Carbon dioxide given off',
            kind: 'volume',
            valueSi: mol * neutraliser.carbonDioxide * gasM3PerMol(roomK),
            formula: 'V = n · R·T/p',
            inputs: [...inputs, figureInput('T', 'room', 'temperature', roomK)],
            source: SOURCE,
          },
      sludge:
        neutraliser.gypsum === 0
          ? null
          : {
              label: 'Gypsum, dry',
              kind: 'mass',
              valueSi: Math.min(mol, acidMol) * GYPSUM_KG_PER_MOL,
              formula: 'm = n(acid) · 172.17 g/mol',
              inputs,
              source: SOURCE,
            },
      riseIfAtOnce: strong
        ? {
            label: 'Warming if it were added at once',
            kind: 'temperatureDifference',
            valueSi: (hydrogenMol * NEUTRALISATION_J_PER_MOL) / (volumeM3 * LIQUID_J_PER_M3_K),
            formula: 'ΔT = n(H⁺) · 57 kJ/mol / (V · 4.0 kJ/(L·K))',
            inputs,
            source: { standing: 'from memory', text: 'heat of neutralisation 57 kJ/mol' },
          }
        : null,
      steps: [
        'Goggles, gloves and moving air; a vessel at least three times the volume of the liquid.',
        'Thin the acid first: pour it slowly into ten times its volume of cold water.',
        neutraliser.caution,
        'Add in small portions, stirring; wait for foam and heat to settle before the next.',
        'Stop at pH 6-9 on test paper, let it settle, and hand in liquid and sludge by your local rules.',
      ],
    };
  }
}
