import type { Source } from '../figure/figure.ts';

/** What the air of the shop may hold. Legal limits change: the local rule comes first. */
export interface ExposureLimit {
  readonly substance: string;
  readonly rule: string;
  /** kg per m³ of air. */
  readonly limitKgPerM3: number;
  readonly over: 'working day' | 'at no time' | 'escape';
  readonly source: Source;
}

const MG = 1e-6;
const published = (text: string): Source => ({ standing: 'published', text });
const memory = (text: string): Source => ({ standing: 'from memory', text });

export const EXPOSURE_LIMITS: readonly ExposureLimit[] = [
  {
    substance: 'sulfuric acid mist',
    rule: 'OSHA PEL',
    limitKgPerM3: 1 * MG,
    over: 'working day',
    source: published('OSHA PEL 1 mg/m³, as quoted in NIOSHTIC 00136872'),
  },
  {
    substance: 'sulfuric acid mist',
    rule: 'ACGIH TLV, thoracic',
    limitKgPerM3: 0.2 * MG,
    over: 'working day',
    source: published('ACGIH TLV-TWA 0.2 mg/m³ thoracic, A2, as quoted in an open abstract'),
  },
  {
    substance: 'sulfuric acid mist',
    rule: 'EU indicative limit, thoracic',
    limitKgPerM3: 0.05 * MG,
    over: 'working day',
    source: published('Directive 2009/161/EU, as quoted by Breuer et al., J. Environ. Monit. 2012'),
  },
  {
    substance: 'sulfuric acid mist',
    rule: 'IDLH',
    limitKgPerM3: 15 * MG,
    over: 'escape',
    source: published('NIOSH IDLH 15 mg/m³, open encyclopedia'),
  },
  {
    substance: 'lye (sodium hydroxide) mist',
    rule: 'OSHA PEL',
    limitKgPerM3: 2 * MG,
    over: 'working day',
    source: published('OSHA PEL 2 mg/m³'),
  },
  {
    substance: 'lye (sodium hydroxide) mist',
    rule: 'ACGIH ceiling',
    limitKgPerM3: 2 * MG,
    over: 'at no time',
    source: memory('ACGIH ceiling 2 mg/m³'),
  },
  {
    substance: 'lead',
    rule: 'OSHA PEL',
    limitKgPerM3: 0.05 * MG,
    over: 'working day',
    source: memory('29 CFR 1910.1025: 50 µg/m³, action level 30 µg/m³'),
  },
  {
    substance: 'soluble nickel',
    rule: 'OSHA PEL',
    limitKgPerM3: 1 * MG,
    over: 'working day',
    source: memory('OSHA PEL 1 mg/m³; ACGIH TLV 0.1 mg/m³ inhalable'),
  },
];

/** Air drawn off at the rim of an acid tank, m³/s per m² of open surface. */
export const RIM_EXHAUST = {
  lowMPerS: 0.5,
  usualMPerS: 0.76,
  highMPerS: 1.0,
  source: memory(
    'rim exhaust for anodizing tanks, about 150 ft³/min per ft² of surface, ACGIH Industrial Ventilation',
  ),
} as const;
