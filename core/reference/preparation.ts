import type { Source } from '../figure/figure.ts';

/** One step between the workshop and the tank. Seconds and kelvin. */
export interface PreparationStep {
  readonly id: 'degrease' | 'rinse' | 'water break' | 'etch' | 'desmut';
  readonly title: string;
  readonly how: string;
  readonly timeS: { readonly low: number; readonly high: number };
  readonly temperatureK: { readonly low: number; readonly high: number } | null;
  /** What shows that the step has worked. */
  readonly check: string;
  readonly source: Source;
}

const practice = (text: string): Source => ({ standing: 'common practice', text });

export const PREPARATION: readonly PreparationStep[] = [
  {
    id: 'degrease',
    title: 'Degrease',
    how: 'Warm mild cleaner made for aluminium, brush holes and threads, from here on gloves only.',
    timeS: { low: 120, high: 600 },
    temperatureK: { low: 313.15, high: 338.15 },
    check: 'No film of oil on the rinse; no slippery feel.',
    source: practice('alkaline soak cleaners, makers’ sheets'),
  },
  {
    id: 'water break',
    title: 'Water-break test',
    how: 'Rinse, lift the part out and watch the water film for a minute.',
    timeS: { low: 60, high: 60 },
    temperatureK: null,
    check:
      'The film holds unbroken for a minute. Water that beads or draws back means not clean: degrease again.',
    source: { standing: 'from memory', text: 'ASTM F22, water break' },
  },
  {
    id: 'etch',
    title: 'Etch',
    how: 'Lye 30-45 g/L; one minute for a light even surface, longer for a matte one. It takes metal off every face.',
    timeS: { low: 60, high: 900 },
    temperatureK: { low: 322.15, high: 339.15 },
    check: 'Even gas from all faces, even grey or matte surface.',
    source: {
      standing: 'published',
      text: 'anodizers’ reference guide, etch C-22: 4-6 oz/gal, 60-65 °C, 5 min; “Caustic Etch”, trade journal: 49-66 °C',
    },
  },
  {
    id: 'desmut',
    title: 'Desmut',
    how: 'Acid deoxidiser until the grey or black film is gone; alloys with copper or silicon need it most.',
    timeS: { low: 30, high: 300 },
    temperatureK: { low: 288.15, high: 303.15 },
    check: 'A white cloth wiped over the part stays white.',
    source: practice('deoxidisers, makers’ sheets'),
  },
  {
    id: 'rinse',
    title: 'Rinse',
    how: 'Two rinses in clean water after every bath; flush holes, threads and seams.',
    timeS: { low: 30, high: 120 },
    temperatureK: null,
    check: 'Nothing of the last bath is carried on: pH paper shows neutral on the drips.',
    source: practice('double rinsing'),
  },
];
