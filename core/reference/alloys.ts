import type { Source } from '../figure/figure.ts';

export const RATINGS = ['excellent', 'very good', 'good', 'fair', 'poor', 'not for colour'] as const;
export type Rating = (typeof RATINGS)[number];

export interface Alloy {
  readonly name: string;
  readonly form: 'wrought' | 'filler' | 'casting';
  readonly densityKgPerM3: { readonly usual: number; readonly low: number; readonly high: number };
  /** Mass fractions, upper end of the composition. */
  readonly siliconHigh: number;
  readonly copperHigh: number;
  readonly magnesiumHigh: number;
  /** As a protective coating. */
  readonly coats: Rating;
  /** For dyeing. */
  readonly dyes: Rating;
  readonly note: string;
  /** Film got for the charge, relative to the ordinary rule; below 1 where particles waste charge. */
  readonly yieldFactor: { readonly low: number; readonly high: number };
  readonly source: Source;
}

const PARTICLE_YIELD = { low: 0.6, high: 0.9 } as const;
const FULL_YIELD = { low: 1, high: 1 } as const;
const memory = (text: string): Source => ({ standing: 'from memory', text });
const published = (text: string): Source => ({ standing: 'published', text });
const density = (low: number, high = low) => ({ usual: (low + high) / 2, low, high });
const HANDBOOK = memory(
  'alloy data sheets and finishing guides; yield of alloys with particles 0.6-0.9 from memory',
);
const GUIDE = published('anodizers’ reference guide (response); composition from memory');

/** Composition limits in mass fraction; where none is registered for an element, 0. */
export const ALLOYS: readonly Alloy[] = [
  {
    name: '1100',
    form: 'wrought',
    densityKgPerM3: density(2710),
    siliconHigh: 0.0095,
    copperHigh: 0.002,
    magnesiumHigh: 0,
    coats: 'very good',
    dyes: 'very good',
    note: 'Clear film; soft, so clamp and hang it with care.',
    yieldFactor: FULL_YIELD,
    source: GUIDE,
  },
  {
    name: '2024',
    form: 'wrought',
    densityKgPerM3: density(2780),
    siliconHigh: 0.005,
    copperHigh: 0.049,
    magnesiumHigh: 0.018,
    coats: 'poor',
    dyes: 'poor',
    note: 'Thin, dull, yellowish film; keep voltage low and expect less film for the charge.',
    yieldFactor: PARTICLE_YIELD,
    source: HANDBOOK,
  },
  {
    name: '3003',
    form: 'wrought',
    densityKgPerM3: density(2730),
    siliconHigh: 0.006,
    copperHigh: 0.002,
    magnesiumHigh: 0,
    coats: 'good',
    dyes: 'fair',
    note: 'Greyish-brown film, hard to match from batch to batch.',
    yieldFactor: FULL_YIELD,
    source: GUIDE,
  },
  {
    name: '5052',
    form: 'wrought',
    densityKgPerM3: density(2680),
    siliconHigh: 0.0025,
    copperHigh: 0.001,
    magnesiumHigh: 0.028,
    coats: 'very good',
    dyes: 'good',
    note: 'Dyes a little duller than 6061.',
    yieldFactor: FULL_YIELD,
    source: published('open 5052 data sheet (density); response from memory'),
  },
  {
    name: '5083',
    form: 'wrought',
    densityKgPerM3: density(2660),
    siliconHigh: 0.004,
    copperHigh: 0.001,
    magnesiumHigh: 0.049,
    coats: 'good',
    dyes: 'fair',
    note: 'Slightly dull and milky; marine plate, so the film itself is sound.',
    yieldFactor: FULL_YIELD,
    source: HANDBOOK,
  },
  {
    name: '5356',
    form: 'filler',
    densityKgPerM3: density(2640),
    siliconHigh: 0.0025,
    copperHigh: 0.001,
    magnesiumHigh: 0.055,
    coats: 'good',
    dyes: 'good',
    note: 'The best colour match for welds in 6xxx; the seam still shows a little.',
    yieldFactor: FULL_YIELD,
    source: HANDBOOK,
  },
  {
    name: '4043',
    form: 'filler',
    densityKgPerM3: density(2690),
    siliconHigh: 0.06,
    copperHigh: 0.003,
    magnesiumHigh: 0.0005,
    coats: 'poor',
    dyes: 'not for colour',
    note: 'The weld comes out dark grey to black whatever the dye; avoid it on parts that will be coloured.',
    yieldFactor: PARTICLE_YIELD,
    source: HANDBOOK,
  },
  {
    name: '6061',
    form: 'wrought',
    densityKgPerM3: density(2700),
    siliconHigh: 0.008,
    copperHigh: 0.004,
    magnesiumHigh: 0.012,
    coats: 'very good',
    dyes: 'good',
    note: 'The usual choice.',
    yieldFactor: FULL_YIELD,
    source: published('open 6061 data sheet (density); response from memory'),
  },
  {
    name: '6063',
    form: 'wrought',
    densityKgPerM3: density(2690, 2700),
    siliconHigh: 0.006,
    copperHigh: 0.001,
    magnesiumHigh: 0.009,
    coats: 'excellent',
    dyes: 'excellent',
    note: 'Clearest film and colours of the common alloys.',
    yieldFactor: FULL_YIELD,
    source: HANDBOOK,
  },
  {
    name: '6082',
    form: 'wrought',
    densityKgPerM3: density(2700),
    siliconHigh: 0.013,
    copperHigh: 0.001,
    magnesiumHigh: 0.012,
    coats: 'very good',
    dyes: 'fair',
    note: 'Slightly grey film; light colours look dull.',
    yieldFactor: FULL_YIELD,
    source: HANDBOOK,
  },
  {
    name: '7075',
    form: 'wrought',
    densityKgPerM3: density(2810),
    siliconHigh: 0.004,
    copperHigh: 0.02,
    magnesiumHigh: 0.029,
    coats: 'fair',
    dyes: 'fair',
    note: 'Film with a faint yellow; burns more easily, so ramp slowly.',
    yieldFactor: { low: 0.8, high: 1 },
    source: HANDBOOK,
  },
  {
    name: 'A356',
    form: 'casting',
    densityKgPerM3: { usual: 2685, low: 2670, high: 2690 },
    siliconHigh: 0.075,
    copperHigh: 0.002,
    magnesiumHigh: 0.0045,
    coats: 'fair',
    dyes: 'poor',
    note: 'Grey film; pores hold acid, so rinse long and expect stains.',
    yieldFactor: PARTICLE_YIELD,
    source: published('open casting data (density 2.685); response from memory'),
  },
  {
    name: '319',
    form: 'casting',
    densityKgPerM3: density(2790),
    siliconHigh: 0.065,
    copperHigh: 0.04,
    magnesiumHigh: 0.001,
    coats: 'poor',
    dyes: 'not for colour',
    note: 'Dark grey, patchy film: silicon stays in it as grey grains and copper thins it.',
    yieldFactor: PARTICLE_YIELD,
    source: HANDBOOK,
  },
  {
    name: 'A413',
    form: 'casting',
    densityKgPerM3: density(2660),
    siliconHigh: 0.13,
    copperHigh: 0.01,
    magnesiumHigh: 0.001,
    coats: 'poor',
    dyes: 'not for colour',
    note: 'With 11 to 13 % silicon hardly anything but a thin, charcoal film; often it will not coat evenly at all.',
    yieldFactor: PARTICLE_YIELD,
    source: published(
      'finishing guidebook: castings up to 13 % silicon are hard to anodize; composition from memory',
    ),
  },
  {
    name: '535',
    form: 'casting',
    densityKgPerM3: density(2620),
    siliconHigh: 0.0015,
    copperHigh: 0.0005,
    magnesiumHigh: 0.075,
    coats: 'very good',
    dyes: 'good',
    note: 'The casting alloy to choose for anodizing: hardly any silicon, so the film is clear and takes colour.',
    yieldFactor: FULL_YIELD,
    source: HANDBOOK,
  },
  {
    name: '380',
    form: 'casting',
    densityKgPerM3: density(2710, 2760),
    siliconHigh: 0.095,
    copperHigh: 0.04,
    magnesiumHigh: 0.003,
    coats: 'poor',
    dyes: 'not for colour',
    note: 'Dark, mottled, thin film.',
    yieldFactor: PARTICLE_YIELD,
    source: HANDBOOK,
  },
  {
    name: 'ADC12 (383)',
    form: 'casting',
    densityKgPerM3: density(2680, 2740),
    siliconHigh: 0.12,
    copperHigh: 0.035,
    magnesiumHigh: 0.003,
    coats: 'poor',
    dyes: 'not for colour',
    note: 'Die casting: dark and uneven at best; the skin must be machined off to coat at all.',
    yieldFactor: PARTICLE_YIELD,
    source: published('composition JIS H 5302, open table; response from memory'),
  },
];

/** The alloy of this name, or undefined; blanks and case do not matter. */
export function alloyByName(name: string): Alloy | undefined {
  const squeeze = (text: string): string => text.replace(/[\s-]/g, '').toLowerCase();
  const wanted = squeeze(name);
  return ALLOYS.find(
    (alloy) => squeeze(alloy.name) === wanted || squeeze(alloy.name.split(' ')[0]!) === wanted,
  );
}
