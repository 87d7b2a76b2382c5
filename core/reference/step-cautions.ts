import type { StepKind } from '../run/step-clock.ts';

/** What can hurt at a seal. */
export interface SealHazards {
  /** It scalds. */
  readonly hot: boolean;
  readonly nickel: boolean;
  readonly fluoride: boolean;
  readonly steam: boolean;
}

/** What a step's words depend on beside its kind. */
export interface StepHazards {
  readonly seal: SealHazards;
  /** The cathodes are lead. */
  readonly lead: boolean;
}

const GAS = 'Hydrogen, acid mist: ventilation on, no flame or spark.';
const DRESS = 'Goggles, face shield, acid-proof gloves and apron on.';

/**
 * The cautions of one step, so short that they are read with gloves on; the long ones with their sources are in cautions.ts.
 * Common practice, and the safety data sheets of sulfuric acid, lye and nickel salts (from memory). They remind; local codes and the
 * makers' data sheets come first.
 *
 * What the power can do is not among them: it goes by what is known of it then; see powerCaution.
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
      return [BEFORE_POWER, GAS];
    case 'hold':
      return [GAS];
    case 'rinse':
      return afterPower ? ['Acid drips: goggles, face shield and gloves stay on.'] : [];
    case 'dye':
      return ['Hot dye scalds: goggles and gloves.'];
    case 'seal':
      return [
        ...(hazards.seal.hot
          ? ['Hot seal and its steam scald: goggles, long gloves, tongs.']
          : ['Goggles and gloves.']),
        ...(hazards.seal.steam ? ['Vented vessel only, never a closed one.'] : []),
        ...(hazards.seal.nickel
          ? ['Nickel is poisonous and can cause cancer: no skin, no steam, no drain.']
          : []),
        ...(hazards.seal.fluoride
          ? ['Fluoride: poisonous through the skin, no acid into it, gluconate gel at hand.']
          : []),
      ];
    case 'water-break':
    case 'check':
      return [];
  }
}

/** Said at the ramp until the power is on. */
export const BEFORE_POWER = 'Hands out of the tank BEFORE the power goes on.';

/** What is known of the power: what was read last, or what somebody who looked has said, goes before what the steps have planned. */
export type PowerKnown =
  /** No step with current has begun. */
  | 'never'
  /** A step with current. */
  | 'on'
  /** The newest reading, or somebody who looked, says so. */
  | 'off'
  /** Current or voltage is read, and none is to be there any more. */
  | 'still-on'
  /** None is to flow any more, and nothing shows the supply off. */
  | 'may-be-on';

/** What the power can do to somebody at this step; it comes before the step's own cautions. Null where nothing is to be said. */
export function powerCaution(kind: StepKind, power: PowerKnown): string | null {
  switch (power) {
    case 'never':
      return null;
    case 'on':
      return kind === 'hold' ? 'POWER IS ON: hands out. Switch off before you touch.' : null;
    case 'off':
      if (kind === 'hold') return 'No current now; it may come back: supply off, then hands in.';
      return kind === 'rinse' ? 'POWER OFF at the supply first, then hands in.' : null;
    case 'still-on':
      return 'POWER IS STILL ON: hands out. Switch the supply off first, then look, then hands in.';
    case 'may-be-on':
      return 'POWER MAY BE ON: switch the supply off first, then look, then hands in.';
  }
}
