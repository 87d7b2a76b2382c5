import type { Figure, Source } from '../figure/figure.ts';
import { figureInput } from '../figure/figure-input.ts';
import { SULFURIC_KG_PER_MOL } from '../reference/sulfuric-heat-of-solution.ts';
import { failure, success, type Result } from '../result.ts';

/** IUPAC 2021. */
const ALUMINIUM_KG_PER_MOL = 26.9815e-3;

export interface Titration {
  readonly sampleM3: number;
  /** Normality of the lye, mol/L; the unit burettes are labelled in. */
  readonly lyeMolPerL: number;
  /** To the phenolphthalein end point, plain sample. */
  readonly totalM3: number;
  /** The same with potassium fluoride added, which holds the aluminium back; null if only one was done. */
  readonly fluorideM3: number | null;
}

export interface TitratedBath {
  readonly totalAcid: Figure;
  /** Null without the fluoride titration. */
  readonly freeAcid: Figure | null;
  readonly aluminium: Figure | null;
}

/** How the two titrations are done, in order; the end point and its indicator are what the factors hold for. */
export const TITRATION_STEPS: readonly string[] = [
  'Goggles and gloves. Sample into a flask with about 50 mL of distilled water: acid into water.',
  'Three drops of phenolphthalein, the indicator: clear in acid, pink from pH 8.2 on.',
  'Lye from the burette, swirling, drop by drop near the end. End point: the first pale pink that stays for half a minute. The white cloud on the way is aluminium hydroxide and belongs there.',
  'For free acid and aluminium, with fluoride in acid, so read the caution first or leave it to a laboratory: a second flask with the same sample and 10 mL of neutral potassium fluoride solution, to the same pink: fluoride holds the aluminium back.',
];

const SOURCE: Source = {
  standing: 'published',
  text: '“Titrating Sulfuric Acid Anodizing Baths”, trade journal: total to phenolphthalein, free with fluoride; factors from atomic weights',
};
/** Half a division of a 50 mL burette, the usual reading error. */
const BURETTE_M3 = 0.05e-6;

/**
 * Free acid, total acid (all base counted as acid) and aluminium from one or two titrations: each mole of base is half
 * a mole of acid, and aluminium takes three. Range: ±0.05 mL on each burette reading.
 * Fails with `titration-input` or `titration-order` (the fluoride one took more base).
 */
export function titrate(titration: Titration): Result<TitratedBath> {
  const { sampleM3, lyeMolPerL, totalM3, fluorideM3 } = titration;
  if (!(sampleM3 > 0 && lyeMolPerL > 0 && totalM3 >= 0 && (fluorideM3 === null || fluorideM3 >= 0))) {
    return failure(
      'titration-input',
      'A titration needs a sample, the strength of the lye and what was used.',
      'Type millilitres of sample, the lye in mol/L and the burette readings.',
    );
  }
  if (fluorideM3 !== null && fluorideM3 > totalM3 * 1.005) {
    return failure(
      'titration-order',
      'The sample with fluoride took more lye than the plain one, which can not be.',
      'Check which reading belongs to which flask and titrate again.',
    );
  }
  const molPerM3 = (lyeM3: number): number => (lyeM3 * lyeMolPerL * 1000) / sampleM3;
  const acid = (lyeM3: number): number => (molPerM3(lyeM3) * SULFURIC_KG_PER_MOL) / 2;
  const metal = (lyeM3: number): number => (molPerM3(lyeM3) * ALUMINIUM_KG_PER_MOL) / 3;
  const inputs = [
    figureInput('A', 'lye to the end point', 'volume', totalM3, 'mL'),
    figureInput('N', 'lye, mol/L', 'count', lyeMolPerL, '', 5),
    figureInput('v', 'sample', 'volume', sampleM3, 'mL'),
  ];
  const both =
    fluorideM3 === null ? [] : [...inputs, figureInput('B', 'lye with fluoride', 'volume', fluorideM3, 'mL')];
  const range = (value: number, half: number) => ({
    valueSi: value,
    lowSi: Math.max(0, value - half),
    highSi: value + half,
  });
  return success({
    totalAcid: {
      label: 'Total acid',
      kind: 'massConcentration',
      unit: 'g/L',
      ...range(acid(totalM3), acid(BURETTE_M3)),
      formula: 'c = A · N · 49.04 / v',
      inputs,
      source: SOURCE,
    },
    freeAcid:
      fluorideM3 === null
        ? null
        : {
            label: 'Free acid',
            kind: 'massConcentration',
            unit: 'g/L',
            ...range(acid(fluorideM3), acid(BURETTE_M3)),
            formula: 'c = B · N · 49.04 / v',
            inputs: both,
            source: SOURCE,
          },
    aluminium:
      fluorideM3 === null
        ? null
        : {
            label: 'Dissolved aluminium',
            kind: 'massConcentration',
            unit: 'g/L',
            ...range(Math.max(0, metal(totalM3 - fluorideM3)), metal(2 * BURETTE_M3)),
            formula: 'Al = (A − B) · N · 8.994 / v',
            inputs: both,
            source: SOURCE,
          },
  });
}
