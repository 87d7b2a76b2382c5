import type { StepKind } from '../run/step-clock.ts';

/** What a step's words depend on beside its kind. */
export interface StepHazards {
  /** The seal holds nickel. */
  readonly nickelSeal: boolean;
  /** The seal is at or near the boil, or steam. */
  readonly hotSeal: boolean;
  /** The cathodes are lead. */
  readonly lead: boolean;
}

const POWER_OFF = 'POWER OFF at the supply first, then hands in.';
const POWER_MAY_BE_ON = 'POWER MAY BE ON: switch the supply off first, then look, then hands in.';
const POWER_ON = 'POWER IS ON: hands out. Switch off before you touch anything.';
const NO_CURRENT = 'The last reading shows the power off: look at the switch before hands go in.';
const GAS = 'Hydrogen and acid mist: ventilation on, no flame or spark.';
const DRESS = 'Goggles, face shield, acid-proof gloves and apron on.';

/**
 * The cautions of one step, so short that they are read with gloves on; the long ones with their sources are in cautions.ts.
 * Common practice, and the safety data sheets of sulfuric acid, lye and nickel salts (from memory). They remind; local codes and the
 * makers' data sheets come first.
 *
 * @param afterPower whether current flowed in the step before
 */
export function stepCautions(kind: StepKind, hazards: StepHazards, afterPower = false): string[] {
  switch (kind) {
    case 'mix':
      return ['Acid into water, never water into acid: slowly, stirring.', DRESS];
    case 'ready':
      return [DRESS, GAS, ...(hazards.lead ? ['Lead cathodes: gloves, and wash before you eat.'] : [])];
    case 'hang':
      return ['Power off before you touch part, hanger or bar.'];
    case 'clean':
      return ['Warm cleaner bites: goggles and gloves.'];
    case 'etch':
      return [
        'Lye blinds and burns: goggles, face shield, gloves.',
        'It makes hydrogen: ventilate, no flame.',
      ];
    case 'desmut':
      return ['Its fumes are poisonous: ventilate, goggles and gloves.', 'Never mix it with lye.'];
    case 'ramp':
      return ['Hands out of the tank BEFORE the power goes on.', GAS];
    case 'hold':
      return [POWER_ON, GAS];
    case 'rinse':
      return afterPower ? [POWER_OFF, 'Acid drips: goggles, face shield and gloves stay on.'] : [];
    case 'dye':
      return ['Hot dye scalds: goggles and gloves.'];
    case 'seal':
      return [
        ...(hazards.hotSeal
          ? ['Hot seal and its steam scald: goggles, long gloves, tongs.']
          : ['Goggles and gloves.']),
        ...(hazards.nickelSeal
          ? ['Nickel is poisonous and can cause cancer: no skin, no steam, no drain.']
          : []),
      ];
    case 'water-break':
    case 'check':
      return [];
  }
}

/**
 * A step's cautions as `stepCautions` has them, with what is known of the power now.
 *
 * @param knownOff whether the supply is known to be off; going on to the next step alone does not tell
 */
export function cautionsAt(cautions: readonly string[], knownOff: boolean): string[] {
  return cautions.map((caution) => {
    if (knownOff && caution === POWER_ON) return NO_CURRENT;
    return !knownOff && caution === POWER_OFF ? POWER_MAY_BE_ON : caution;
  });
}
