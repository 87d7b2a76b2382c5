import type { Source } from '../figure/figure.ts';
import type { HangerMaterial } from '../job/job-hanging.ts';

/**
 * What hangers are made of. Resistivities at 20 °C are 1.7241 µΩ·cm over the conductivity in % IACS (exact by the
 * definition of IACS). Uncertainty: 3 % for the wrought alloys by temper, 5 % for titanium. Valid near room temperature:
 * the temperature rise of resistivity is linear to about 200 °C.
 */
export interface HangerMetal {
  readonly name: HangerMaterial;
  readonly resistivityOhmM: number;
  readonly resistivitySource: Source;
  /** Rise of resistivity. For aluminium alloys the same in Ω·m/K whatever the alloy (Matthiessen's rule). */
  readonly resistivityRiseOhmMPerK: number;
  readonly elasticModulusPa: number;
  /** Lowest that a bought wire has to be counted on. */
  readonly yieldPa: number;
  /** Indentation hardness for contact spots. */
  readonly hardnessPa: number;
  readonly densityKgPerM3: number;
  readonly mechanicalSource: Source;
  /** Finishing guidebook: current per cross-section of racks. */
  readonly guideAPerM2: number;
  /** Radiation of a bright or lightly oxidised wire. */
  readonly emissivity: number;
  readonly reuse: 'once' | 'many';
}

const IACS: Source = {
  standing: 'published',
  text: 'open % IACS tables; 1.7241 µΩ·cm is 100 % IACS by definition',
};
const MEMORY: Source = { standing: 'from memory', text: 'handbook values, to be confirmed on paper' };

/** Metal Finishing Guidebook, racks, Table II: 600 A per square inch for aluminium, 31 for titanium. */
export const GUIDE_SOURCE: Source = {
  standing: 'published',
  text: 'Metal Finishing Guidebook, racks, Table II: aluminium 600, titanium 31 A/in² of cross-section',
};
const PER_SQUARE_INCH = 1 / 0.0254 ** 2;
const ALUMINIUM_GUIDE = 600 * PER_SQUARE_INCH;
const TITANIUM_GUIDE = 31 * PER_SQUARE_INCH;

const ofIacs = (percent: number): number => 1.7241e-8 / (percent / 100);
/** Pure aluminium: 2.65 µΩ·cm × 0.0043 /K at 20 °C. */
const ALUMINIUM_RISE = 1.14e-10;

const aluminium = {
  resistivityRiseOhmMPerK: ALUMINIUM_RISE,
  mechanicalSource: MEMORY,
  guideAPerM2: ALUMINIUM_GUIDE,
  emissivity: 0.1,
  reuse: 'once',
} as const;

export const HANGER_METALS: Readonly<Record<HangerMaterial, HangerMetal>> = {
  'Al 1100': {
    ...aluminium,
    name: 'Al 1100',
    resistivityOhmM: ofIacs(59),
    resistivitySource: IACS,
    elasticModulusPa: 69e9,
    yieldPa: 35e6,
    hardnessPa: 400e6,
    densityKgPerM3: 2710,
  },
  'Al 4043': {
    ...aluminium,
    name: 'Al 4043',
    resistivityOhmM: ofIacs(42),
    resistivitySource: {
      standing: 'from memory',
      text: '42 % IACS, handbook value, to be confirmed on paper',
    },
    elasticModulusPa: 69e9,
    yieldPa: 70e6,
    hardnessPa: 450e6,
    densityKgPerM3: 2690,
  },
  'Al 5356': {
    ...aluminium,
    name: 'Al 5356',
    resistivityOhmM: ofIacs(29),
    resistivitySource: IACS,
    elasticModulusPa: 71e9,
    yieldPa: 120e6,
    hardnessPa: 700e6,
    densityKgPerM3: 2640,
  },
  'Al 6061': {
    ...aluminium,
    name: 'Al 6061',
    resistivityOhmM: ofIacs(43),
    resistivitySource: IACS,
    elasticModulusPa: 69e9,
    yieldPa: 240e6,
    hardnessPa: 1000e6,
    densityKgPerM3: 2700,
  },
  'Ti grade 2': {
    name: 'Ti grade 2',
    resistivityOhmM: 56e-8,
    resistivitySource: {
      standing: 'from memory',
      text: '56 µΩ·cm (54-57), handbook value, to be confirmed on paper',
    },
    resistivityRiseOhmMPerK: 1.6e-9,
    elasticModulusPa: 103e9,
    yieldPa: 275e6,
    hardnessPa: 1600e6,
    densityKgPerM3: 4510,
    mechanicalSource: MEMORY,
    guideAPerM2: TITANIUM_GUIDE,
    emissivity: 0.1,
    reuse: 'many',
  },
};

/** Round wire and rod as sold (filler wire and rod sizes), m. Common practice. */
export const WIRE_DIAMETERS_M: readonly number[] = [
  0.8e-3, 1e-3, 1.2e-3, 1.6e-3, 2e-3, 2.4e-3, 3.2e-3, 4e-3, 4.8e-3, 6e-3, 8e-3, 10e-3, 12e-3,
];

export function resistivityAt(metal: HangerMetal, temperatureK: number): number {
  return metal.resistivityOhmM + metal.resistivityRiseOhmMPerK * (temperatureK - 293.15);
}
