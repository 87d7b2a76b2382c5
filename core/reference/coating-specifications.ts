import type { Source } from '../figure/figure.ts';

/** What a published specification asks of a coating. SI; null where it says nothing. */
export interface CoatingSpecification {
  readonly id: string;
  readonly title: string;
  /** Least average thickness, or the usual range where the standard gives one. */
  readonly thicknessM: { readonly low: number | null; readonly high: number | null };
  readonly leastLocalM: number | null;
  /** Least mass of the film. */
  readonly massPerAreaKgPerM2: number | null;
  readonly massPerVolumeKgPerM3: number | null;
  readonly sealed: boolean | null;
  readonly source: Source;
}

const UM = 1e-6;
const MG_PER_FT2 = 1e-6 / 0.3048 ** 2;
const memory = (text: string): Source => ({ standing: 'from memory', text });
const published = (text: string): Source => ({ standing: 'published', text });
const base = { leastLocalM: null, massPerAreaKgPerM2: null, massPerVolumeKgPerM3: null, sealed: null };

export const COATING_SPECIFICATIONS: readonly CoatingSpecification[] = [
  {
    ...base,
    id: 'MIL-A-8625F II-1',
    title: 'Type II, class 1 (not dyed)',
    thicknessM: { low: 1.8 * UM, high: 25.4 * UM },
    massPerAreaKgPerM2: 1000 * MG_PER_FT2,
    sealed: true,
    source: published('MIL-A-8625F: 0.07-1.0 mil; mass of 1000 mg/ft² from memory'),
  },
  {
    ...base,
    id: 'MIL-A-8625F II-2',
    title: 'Type II, class 2 (dyed)',
    thicknessM: { low: 1.8 * UM, high: 25.4 * UM },
    massPerAreaKgPerM2: 2500 * MG_PER_FT2,
    sealed: true,
    source: published('MIL-A-8625F: 0.07-1.0 mil; mass of 2500 mg/ft² from memory'),
  },
  {
    ...base,
    id: 'MIL-A-8625F III',
    title: 'Type III, hard coat',
    thicknessM: { low: 12.7 * UM, high: 115 * UM },
    massPerVolumeKgPerM3: (4320 * MG_PER_FT2) / 25.4e-6,
    sealed: false,
    source: published(
      'MIL-A-8625F: 0.5-4.5 mil, 2.0 mil ±20 % where nothing is called out, 4320 mg/ft² per mil unsealed',
    ),
  },
  {
    ...base,
    id: 'ASTM B580 A',
    title: 'Hard coat',
    thicknessM: { low: 50 * UM, high: null },
    sealed: false,
    source: published('ASTM B580-79, table 1'),
  },
  ...(
    [
      ['B', 'Architectural I', 18],
      ['C', 'Architectural II', 10],
      ['D', 'Automotive, exterior', 8],
      ['E', 'Interior, moderate wear', 5],
      ['F', 'Interior, limited wear', 3],
      ['G', 'Chromic', 1],
    ] as const
  ).map(([letter, title, least]) => ({
    ...base,
    id: `ASTM B580 ${letter}`,
    title,
    thicknessM: { low: least * UM, high: null },
    source: published('ASTM B580-79, table 1'),
  })),
  {
    ...base,
    id: 'AAMA 611 I',
    title: 'Architectural class I',
    thicknessM: { low: 18 * UM, high: null },
    massPerAreaKgPerM2: 4.18e-2,
    massPerVolumeKgPerM3: 2320,
    sealed: true,
    source: published('AAMA 611 as quoted in an anodizers’ reference guide'),
  },
  {
    ...base,
    id: 'AAMA 611 II',
    title: 'Architectural class II',
    thicknessM: { low: 10 * UM, high: null },
    massPerAreaKgPerM2: 2.4e-2,
    massPerVolumeKgPerM3: 2320,
    sealed: true,
    source: published('AAMA 611 as quoted in an anodizers’ reference guide'),
  },
  ...[5, 10, 15, 20, 25].map((least) => ({
    ...base,
    id: `ISO 7599 AA${least}`,
    title: `Class AA${least}`,
    thicknessM: { low: least * UM, high: null },
    leastLocalM: 0.8 * least * UM,
    sealed: true,
    source: memory('ISO 7599, classes: local thickness at least 80 %'),
  })),
  {
    ...base,
    id: 'ISO 10074',
    title: 'Hard coat',
    thicknessM: { low: 25 * UM, high: 150 * UM },
    source: memory('ISO 10074: 25-150 µm usual, 50 µm typical'),
  },
];
