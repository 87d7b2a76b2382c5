import { BATH_TEMPERATURE } from '../reference/bath-limits.ts';

export interface BathMessage {
  readonly level: 'note' | 'check' | 'stop';
  readonly code: string;
  readonly message: string;
  readonly remedy: string;
}

export interface BathConditions {
  readonly startK: number;
  /** Warmest of the run; the high end of its range where there is one. */
  readonly warmestK: number;
  readonly currentDensityAPerM2: number;
  readonly stirred: boolean;
  readonly thicknessM: number;
}

/** From this density or thickness on a run is a hard coat's, and above this temperature such a film softens (common practice). */
export const HARD_COAT_FROM = {
  thicknessM: 30e-6,
  densityAPerM2: 250,
  softensAboveK: BATH_TEMPERATURE.hard.highK + 5,
} as const;

/** What to say about temperature, current density and stirring before the power goes on (common practice). */
export function bathMessages(conditions: BathConditions): BathMessage[] {
  const messages: BathMessage[] = [];
  const { startK, warmestK, currentDensityAPerM2: j, stirred, thicknessM } = conditions;
  const { ordinary } = BATH_TEMPERATURE;
  const wantsHard = thicknessM > HARD_COAT_FROM.thicknessM;
  if (wantsHard && warmestK > HARD_COAT_FROM.softensAboveK) {
    messages.push({
      level: 'check',
      code: 'hard-coat-warm',
      message: 'Above about 10 °C a thick film softens and powders while it grows.',
      remedy: 'Chill the bath to −2 to 5 °C, or ask for 25 µm or less.',
    });
  } else if (!wantsHard && warmestK > ordinary.highK) {
    messages.push({
      level: 'check',
      code: 'soft-coating',
      message: 'The bath ends above 24 °C, where the film comes out soft and chalky.',
      remedy: 'Start colder, add ice in closed bottles, use more bath or run fewer parts at once.',
    });
  }
  if (!wantsHard && startK < ordinary.lowK) {
    messages.push({
      level: 'note',
      code: 'cold-start',
      message: 'Below 18 °C the film grows harder and takes dye more slowly, and the voltage is higher.',
      remedy: 'Warm the bath to 20-22 °C for a dyed part.',
    });
  }
  if (j > HARD_COAT_FROM.densityAPerM2 && (!stirred || warmestK > HARD_COAT_FROM.softensAboveK)) {
    messages.push({
      level: 'check',
      code: 'burning-risk',
      message: 'At this current density edges and contacts burn in a bath that is not cold and stirred hard.',
      remedy: 'Stir strongly, cool the bath, make larger contacts or lower the density.',
    });
  }
  if (!stirred && j > 100) {
    messages.push({
      level: 'check',
      code: 'not-stirred',
      message: 'Without stirring the liquid at the part is several kelvin warmer than the thermometer says.',
      remedy: 'Stir with air or a pump through the whole run.',
    });
  }
  return messages;
}
