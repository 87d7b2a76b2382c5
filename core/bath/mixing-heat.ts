import { heatOfSolutionJPerKgAcid } from '../reference/sulfuric-heat-of-solution.ts';
import { sulfuricHeatCapacityJPerKgK } from '../reference/sulfuric-heat-capacity.ts';
import { success, type Result } from '../result.ts';

/** Half-width of the heat of mixing against the textbook rows and Thomsen's equation, share of it. */
export const MIXING_HEAT_UNCERTAINTY = 0.06;

/** One liquid that goes into the mix: mass fraction 0 is water. */
export interface MixPart {
  readonly massKg: number;
  readonly massFraction: number;
  readonly temperatureK: number;
}

export interface MixedLiquid {
  readonly massKg: number;
  readonly massFraction: number;
  /** Heat of solution set free, J. */
  readonly heatJ: number;
  /** Temperature reached with no loss to vessel or air. */
  readonly temperatureK: number;
  /** temperatureK less the mean temperature the parts had, weighted with their heat capacities. */
  readonly riseK: number;
}

/**
 * Balance of acid, water and heat over liquids mixed without loss. Heat = what the end product would have given off,
 * made from pure acid and water, less what the parts already gave off when they were made. The heat capacity is the
 * mixture's own, near 20 °C. Fails with `outside-table`; throws RangeError when nothing is mixed.
 */
export function mixLiquids(parts: readonly MixPart[]): Result<MixedLiquid> {
  let massKg = 0;
  let acidKg = 0;
  let givenOffJ = 0;
  let capacityJPerK = 0;
  let capacityTimesK = 0;
  for (const part of parts) {
    if (!(part.massKg >= 0)) throw new RangeError(`mixLiquids: massKg is ${part.massKg}`);
    if (part.massKg === 0) continue;
    const partAcidKg = part.massKg * part.massFraction;
    if (partAcidKg > 0) {
      const heat = heatOfSolutionJPerKgAcid(part.massFraction);
      if (!heat.ok) return heat;
      givenOffJ += heat.value * partAcidKg;
    }
    const capacity = sulfuricHeatCapacityJPerKgK(part.massFraction);
    if (!capacity.ok) return capacity;
    massKg += part.massKg;
    acidKg += partAcidKg;
    capacityJPerK += part.massKg * capacity.value;
    capacityTimesK += part.massKg * capacity.value * part.temperatureK;
  }
  if (!(massKg > 0)) throw new RangeError(`mixLiquids: total mass is ${massKg}`);
  const massFraction = acidKg / massKg;
  let heatJ = 0;
  if (acidKg > 0) {
    const heat = heatOfSolutionJPerKgAcid(massFraction);
    if (!heat.ok) return heat;
    heatJ = heat.value * acidKg - givenOffJ;
  }
  const mixture = sulfuricHeatCapacityJPerKgK(massFraction);
  if (!mixture.ok) return mixture;
  const riseK = heatJ / (massKg * mixture.value);
  return success({
    massKg,
    massFraction,
    heatJ,
    riseK,
    temperatureK: capacityTimesK / capacityJPerK + riseK,
  });
}
