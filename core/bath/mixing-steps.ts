import { failure, success, type Result } from '../result.ts';
import { MIXING_HEAT_UNCERTAINTY, mixLiquids } from './mixing-heat.ts';

/** Mixing texts ask for 50-60 °C at most; the lower end is the default (from memory). */
export const MIXING_LIMIT_K = 273.15 + 50;
const MOST_STEPS = 50;

/** From here on acid boils and spits where it meets too little water (from memory). */
const STRONG_ACID = 0.6;

/** What has to be said of pouring an acid as strong as this beside the usual; null for a weaker one. */
export function strongAcidCaution(massFraction: number): string | null {
  return massFraction < STRONG_ACID
    ? null
    : 'Strong acid boils and spits where it meets too little water: a thin stream into the middle, stirring all the time, the vessel standing in cold water. Glass and soft plastic crack or sag in the heat: polypropylene or polyethylene, thick.';
}

export interface MixingStep {
  /** Acid poured in at this step. */
  readonly acidKg: number;
  /** Reached at most, the heat of mixing at its high end, before it is left to cool back to the start. */
  readonly temperatureK: number;
}

/**
 * Splits the acid into the fewest equal pours so that no pour, each started back at the starting temperature, goes over
 * the limit. One step means it can be poured slowly in one go. Fails with `mixing-too-hot` when fifty pours are not
 * enough or the start is already at the limit, and with `outside-table`.
 */
export function mixingSteps(
  acid: { readonly massKg: number; readonly massFraction: number },
  waterKg: number,
  startK: number,
  limitK: number = MIXING_LIMIT_K,
): Result<readonly MixingStep[]> {
  for (let count = 1; count <= MOST_STEPS && startK < limitK; count++) {
    const steps = equalPours(acid, waterKg, startK, count);
    if (!steps.ok) return steps;
    if (steps.value.every((step) => step.temperatureK <= limitK)) return steps;
  }
  return failure(
    'mixing-too-hot',
    'Even in many small pours this mix gets hotter than the limit.',
    'Start colder, let it cool between pours, or use a weaker acid.',
  );
}

function equalPours(
  acid: { readonly massKg: number; readonly massFraction: number },
  waterKg: number,
  startK: number,
  count: number,
): Result<MixingStep[]> {
  const pourKg = acid.massKg / count;
  const steps: MixingStep[] = [];
  let liquid = { massKg: waterKg, massFraction: 0 };
  for (let step = 0; step < count; step++) {
    const mixed = mixLiquids([
      { ...liquid, temperatureK: startK },
      { massKg: pourKg, massFraction: acid.massFraction, temperatureK: startK },
    ]);
    if (!mixed.ok) return mixed;
    steps.push({ acidKg: pourKg, temperatureK: startK + mixed.value.riseK * (1 + MIXING_HEAT_UNCERTAINTY) });
    liquid = { massKg: mixed.value.massKg, massFraction: mixed.value.massFraction };
  }
  return success(steps);
}
