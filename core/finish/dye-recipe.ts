import type { Figure } from '../figure/figure.ts';
import { figureInput } from '../figure/figure-input.ts';
import { DYE_PRACTICE, type Shade } from '../reference/dye-practice.ts';
import type { Dye } from './colour-book.ts';
import { failure, success, type Result } from '../result.ts';

/** A recipe as the dye’s label gives it: grams per litre, or what one bottle makes. */
export type DyeRecipe = Dye['recipe'];

export interface DyePot {
  /** Dye to weigh in; null where the label only speaks of bottles. */
  readonly mass: Figure | null;
  /** Bottles, which may be a fraction; null where the label gives a concentration. */
  readonly bottles: Figure | null;
}

/** Dye per volume of the pot; null of dye by the bottle. */
export const dyeStrength = (recipe: DyeRecipe): number | null =>
  recipe.as === 'concentration' ? recipe.dyeKgPerM3 : null;

/** Scales a recipe to the pot. Fails with `dye-recipe`. */
export function scaleDye(recipe: DyeRecipe, potM3: number): Result<DyePot> {
  const given = recipe.as === 'bottle' ? recipe.makesM3 : recipe.dyeKgPerM3;
  if (!(potM3 > 0 && given > 0)) {
    return failure(
      'dye-recipe',
      'A dye bath needs a pot and a recipe.',
      'Type the pot’s litres and what the label says: grams per litre, or litres per bottle.',
    );
  }
  const pot = figureInput('V', 'pot', 'volume', potM3);
  const source = { standing: 'your entry', text: 'the dye’s label' } as const;
  if (recipe.as === 'bottle') {
    return success({
      mass: null,
      bottles: {
        label: 'Bottles of dye',
        kind: 'count',
        digits: 3,
        valueSi: potM3 / recipe.makesM3,
        formula: 'n = V / V_bottle',
        inputs: [pot, figureInput('V_bottle', 'one bottle makes', 'volume', recipe.makesM3)],
        source,
      },
    });
  }
  return success({
    mass: {
      label: 'Dye',
      kind: 'mass',
      valueSi: recipe.dyeKgPerM3 * potM3,
      formula: 'm = c · V',
      inputs: [pot, figureInput('c', 'dye', 'massConcentration', recipe.dyeKgPerM3, 'g/L')],
      source,
    },
    bottles: null,
  });
}

export interface DyeMessage {
  readonly level: 'note' | 'check';
  readonly code: string;
  readonly message: string;
  readonly remedy: string;
}

export interface DyeConditions {
  readonly shade: Shade;
  readonly strongBlack: boolean;
  readonly thicknessM: number;
  readonly temperatureK: number;
  readonly ph: number | null;
}

/** What to say before the part goes into the dye (handbook ranges, from memory). */
export function dyeMessages(conditions: DyeConditions): DyeMessage[] {
  const messages: DyeMessage[] = [];
  const { temperatureK, ph, thicknessM, shade, strongBlack } = conditions;
  const needM = shade === 'black' && strongBlack ? DYE_PRACTICE.strongBlackM : DYE_PRACTICE.thicknessM[shade];
  if (thicknessM < needM * (1 - 1e-9)) {
    messages.push({
      level: 'check',
      code: 'film-too-thin',
      message: `A ${shade} shade usually needs a film of ${Math.round(needM * 1e6)} µm or more, so this one may stay pale.`,
      remedy: 'Plan a thicker film or a lighter shade.',
    });
  }
  if (temperatureK < DYE_PRACTICE.temperatureK.low) {
    messages.push({
      level: 'note',
      code: 'dye-cool',
      message: 'Below 50 °C dye goes in slowly.',
      remedy: 'Warm the dye to 50-65 °C, or leave the part in longer and note the time.',
    });
  }
  if (temperatureK > DYE_PRACTICE.temperatureK.high) {
    messages.push({
      level: 'check',
      code: 'dye-hot',
      message: 'Above 65 °C the film starts to seal while it dyes, and colour goes blotchy.',
      remedy: 'Let the dye cool below 65 °C.',
    });
  }
  if (ph !== null && (ph < DYE_PRACTICE.ph.low || ph > DYE_PRACTICE.ph.high)) {
    messages.push({
      level: 'check',
      code: 'dye-ph',
      message: 'Most dyes for aluminium want pH 5 to 6; outside it they go in slowly or change shade.',
      remedy: 'Check the dye’s sheet and correct with a few drops of acetic acid or ammonia.',
    });
  }
  return messages;
}
