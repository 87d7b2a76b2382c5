import type { Figure, Source } from '../figure/figure.ts';

/**
 * One bare spot pressed against another, after Holm, Electric Contacts, 4th ed. 1967: the spot has the area that
 * yields under the force, current crowds through it, and the hottest point follows from the voltage alone.
 */
const HOLM: Source = { standing: 'published', text: 'Holm, Electric Contacts, 4th ed. 1967' };

/** Wiedemann-Franz number, V²/K², theory (Sommerfeld); aluminium's own is about 10 % lower. */
export const LORENZ_V2_PER_K2 = 2.44e-8;

/** Holm's tables: drop at which aluminium softens, and melts. From memory. */
export const ALUMINIUM_SOFTENS_V = 0.1;
export const ALUMINIUM_MELTS_V = 0.3;
/** Common practice for lasting contacts: half of what softens the metal. */
export const WANTED_DROP_V = 0.05;

export interface ContactPair {
  readonly resistivityAOhmM: number;
  readonly resistivityBOhmM: number;
  /** Of the softer of the two, which yields. */
  readonly hardnessPa: number;
  readonly forceN: number;
}

/** Radius of the spot: F = π a² H. */
export function spotRadiusM({ forceN, hardnessPa }: Pick<ContactPair, 'forceN' | 'hardnessPa'>): number {
  if (!(forceN > 0)) throw new RangeError(`spotRadiusM: forceN is ${forceN}`);
  if (!(hardnessPa > 0)) throw new RangeError(`spotRadiusM: hardnessPa is ${hardnessPa}`);
  return Math.sqrt(forceN / (Math.PI * hardnessPa));
}

/** Clean metal, no oxide between: an old oxide layer adds to it until it breaks. */
export function contactResistance(pair: ContactPair): Figure {
  const a = spotRadiusM(pair);
  const r = (pair.resistivityAOhmM + pair.resistivityBOhmM) / (4 * a);
  return {
    label: 'Contact resistance',
    kind: 'resistance',
    valueSi: r,
    formula: 'R = (ρ1 + ρ2) / (4 a), F = π a² H',
    inputs: pairInputs(pair, a),
    source: HOLM,
  };
}

function pairInputs(pair: ContactPair, a: number): Figure['inputs'] {
  return [
    { symbol: 'ρ1', label: 'resistivity, hanger', kind: 'resistivity', valueSi: pair.resistivityAOhmM },
    { symbol: 'ρ2', label: 'resistivity, part', kind: 'resistivity', valueSi: pair.resistivityBOhmM },
    { symbol: 'F', label: 'force of the clamp', kind: 'force', valueSi: pair.forceN },
    { symbol: 'a', label: 'radius of the spot', kind: 'length', valueSi: a, unit: 'µm' },
  ];
}

export interface ContactLoad {
  readonly resistance: Figure;
  readonly dropV: Figure;
  readonly hottestK: Figure;
  /** Force that brings the drop to WANTED_DROP_V. */
  readonly wantedForceN: Figure;
  readonly verdict: 'good' | 'warm' | 'softens' | 'melts';
}

/** @param aroundK temperature of the metal away from the spot */
export function contactLoad(pair: ContactPair, currentA: number, aroundK: number): ContactLoad {
  if (!(currentA >= 0)) throw new RangeError(`contactLoad: currentA is ${currentA}`);
  const resistance = contactResistance(pair);
  const drop = currentA * resistance.valueSi;
  const wantedRadius = (currentA * (pair.resistivityAOhmM + pair.resistivityBOhmM)) / (4 * WANTED_DROP_V);
  const verdict =
    drop >= ALUMINIUM_MELTS_V
      ? 'melts'
      : drop >= ALUMINIUM_SOFTENS_V
        ? 'softens'
        : drop > WANTED_DROP_V
          ? 'warm'
          : 'good';
  return {
    resistance,
    dropV: {
      label: 'Drop over the contact',
      kind: 'voltage',
      valueSi: drop,
      formula: 'V = I · R',
      inputs: [
        { symbol: 'I', label: 'current', kind: 'current', valueSi: currentA },
        { symbol: 'R', label: 'contact resistance', kind: 'resistance', valueSi: resistance.valueSi },
      ],
      source: HOLM,
    },
    hottestK: {
      label: 'Hottest point of the contact',
      kind: 'temperature',
      valueSi: Math.sqrt(aroundK ** 2 + drop ** 2 / (4 * LORENZ_V2_PER_K2)),
      formula: 'T² = T0² + V² / (4 L), L = 2.44e-8 V²/K²',
      inputs: [
        { symbol: 'T0', label: 'metal around it', kind: 'temperature', valueSi: aroundK },
        { symbol: 'V', label: 'drop over the contact', kind: 'voltage', valueSi: drop },
      ],
      source: HOLM,
    },
    wantedForceN: {
      label: 'Force wanted for 50 mV',
      kind: 'force',
      valueSi: Math.PI * wantedRadius ** 2 * pair.hardnessPa,
      formula: 'F = π a² H, a = I (ρ1 + ρ2) / (4 · 0.05 V)',
      inputs: [
        { symbol: 'I', label: 'current', kind: 'current', valueSi: currentA },
        { symbol: 'ρ1', label: 'resistivity, hanger', kind: 'resistivity', valueSi: pair.resistivityAOhmM },
        { symbol: 'ρ2', label: 'resistivity, part', kind: 'resistivity', valueSi: pair.resistivityBOhmM },
      ],
      source: HOLM,
    },
    verdict,
  };
}
