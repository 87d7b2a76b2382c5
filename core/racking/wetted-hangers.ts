import type { PlanItem } from '../electrical/plan-items.ts';
import type { Figure, Source } from '../figure/figure.ts';
import type { HangerMaterial } from '../job/job-hanging.ts';

/** Round wire, rod or the end of a bus that hangs into the bath. */
export interface ImmersedHanger {
  readonly name: string;
  readonly material: HangerMaterial;
  readonly diameterM: number;
  /** Below the level, bends straightened out. */
  readonly lengthBelowM: number;
  /** Free ends below the level: 0 where it is welded on or only dips through, 1 for a wire that ends in the bath. */
  readonly endsBelow: 0 | 1 | 2;
  readonly count: number;
}

export interface WettedHangers {
  /** For planRun, beside the parts; titanium is left out. */
  readonly items: readonly PlanItem[];
  /** All of them together. */
  readonly areaM2: Figure;
  /** Those that take no current. */
  readonly without: readonly string[];
}

const SOURCE: Source = {
  standing: 'common practice',
  text: 'aluminium below the level is coated like the part and takes its share of current; titanium blocks within seconds',
};

/**
 * Area of hangers below the level. Aluminium grows a film as the part does, so its area adds to the load's;
 * titanium's own oxide stops the current at these voltages.
 *
 * @throws RangeError for a length, diameter or count that is negative or not a number
 */
export function wettedHangers(hangers: readonly ImmersedHanger[]): WettedHangers {
  for (const { name, diameterM, lengthBelowM, count } of hangers) {
    if (!(
      diameterM > 0 &&
      lengthBelowM >= 0 &&
      lengthBelowM < Infinity &&
      Number.isInteger(count) &&
      count >= 0
    )) {
      throw new RangeError(
        `hangers: ${name} has diameter ${diameterM} m, ${lengthBelowM} m below the level, count ${count}`,
      );
    }
  }
  const blocks = (material: HangerMaterial): boolean => material.startsWith('Ti');
  const wetted = hangers.filter(
    ({ material, count, lengthBelowM }) => !blocks(material) && count * lengthBelowM > 0,
  );
  const items = wetted.map(({ name, diameterM, lengthBelowM, endsBelow, count }): PlanItem => ({
    name,
    areaM2: Math.PI * diameterM * lengthBelowM + (endsBelow * Math.PI * diameterM * diameterM) / 4,
    quantity: count,
  }));
  return {
    items,
    areaM2: {
      label: 'Hangers below the level',
      kind: 'area',
      valueSi: items.reduce((sum, { areaM2, quantity }) => sum + areaM2 * quantity, 0),
      formula: 'A = Σ n · (π · d · l + e · π · d² / 4), aluminium only',
      inputs: wetted.flatMap(({ name, diameterM, lengthBelowM, endsBelow, count }, i) => [
        { symbol: `d${i + 1}`, label: `diameter of ${name}`, kind: 'length' as const, valueSi: diameterM },
        {
          symbol: `l${i + 1}`,
          label: `${name} below the level`,
          kind: 'length' as const,
          valueSi: lengthBelowM,
        },
        { symbol: `e${i + 1}`, label: `free ends of ${name}`, kind: 'count' as const, valueSi: endsBelow },
        { symbol: `n${i + 1}`, label: `how many of ${name}`, kind: 'count' as const, valueSi: count },
      ]),
      source: SOURCE,
    },
    without: hangers.filter(({ material }) => blocks(material)).map(({ name }) => name),
  };
}
