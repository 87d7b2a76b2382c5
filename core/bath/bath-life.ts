import { FARADAY_C_PER_MOL, POROUS_FILM_DENSITY_KG_PER_M3 } from '../electrical/faraday.ts';
import type { Figure } from '../figure/figure.ts';
import { figureInput } from '../figure/figure-input.ts';
import { ALUMINIUM_LIMITS, DRAG_OUT_M3_PER_M2 } from '../reference/bath-limits.ts';
import { SULFURIC_KG_PER_MOL } from '../reference/sulfuric-heat-of-solution.ts';
import { ALUMINA_KG_PER_MOL, ALUMINIUM_KG_PER_MOL } from '../reference/thermochemistry.ts';
import { failure, success, type Result } from '../result.ts';

/** kg of aluminium oxidised per coulomb, all current counted: Faraday, three electrons. */
export const ALUMINIUM_KG_PER_C = ALUMINIUM_KG_PER_MOL / (3 * FARADAY_C_PER_MOL);
/** kg of H₂SO₄ held by a kg of dissolved aluminium, as Al₂(SO₄)₃. */
export const ACID_PER_ALUMINIUM = (3 * SULFURIC_KG_PER_MOL) / (2 * ALUMINIUM_KG_PER_MOL);
const ALUMINIUM_SHARE_OF_ALUMINA = (2 * ALUMINIUM_KG_PER_MOL) / ALUMINA_KG_PER_MOL;

/**
 * Aluminium that goes into solution, kg per coulomb: what the current oxidises less what stays as film (density/k).
 * Never below zero: a charge constant near Faraday’s bound leaves nothing to dissolve.
 */
export function dissolvedPerCoulombKg(chargePerVolumeCPerM3: number, filmDensityKgPerM3: number): number {
  if (!(chargePerVolumeCPerM3 > 0 && filmDensityKgPerM3 > 0)) {
    throw new RangeError(`dissolvedPerCoulombKg: ${chargePerVolumeCPerM3} C/m³, ${filmDensityKgPerM3} kg/m³`);
  }
  const inFilm = (ALUMINIUM_SHARE_OF_ALUMINA * filmDensityKgPerM3) / chargePerVolumeCPerM3;
  return Math.max(0, ALUMINIUM_KG_PER_C - inFilm);
}

export interface BathUse {
  readonly volumeM3: number;
  readonly aluminiumKgPerM3: number;
  readonly freeAcidKgPerM3: number;
  readonly chargePerVolumeCPerM3: number;
  /** Coated area per coulomb of the work usually done, m²/C; 0 where drag-out is not counted. */
  readonly areaPerCoulombM2: number;
  readonly dragOutM3PerM2?: number;
  /** Charge of the work planned next. */
  readonly chargeC: number;
}

export interface BathLife {
  readonly aluminiumAfter: Figure;
  readonly freeAcidAfter: Figure;
  /** Charge until the limit; null when drag-out keeps the aluminium under it for ever. */
  readonly chargeLeft: Figure | null;
  /** Part of the bath to replace by fresh acid to come back to the ideal range; zero while not needed. */
  readonly replaceFraction: Figure;
  readonly advice: 'young' | 'good' | 'refresh soon' | 'refresh now';
}

const SECONDS_PER_HOUR = 3600;
/** Film density used for the balance: 2.4 g/cm³, middle of what a 720-rule film weighs. */
const FILM_KG_PER_M3 = 2400;

/**
 * Aluminium and free acid after more charge, with bath lost on the parts and made up with fresh acid of the same free
 * strength: V·dc/dQ = a − c·q, so c = a/q + (c₀ − a/q)·e^(−qQ/V). Fails with `bath-use`.
 */
export function bathLife(use: BathUse): Result<BathLife> {
  if (!(use.volumeM3 > 0 && use.aluminiumKgPerM3 >= 0 && use.freeAcidKgPerM3 > 0 && use.chargeC >= 0)) {
    return failure(
      'bath-use',
      'The bath’s volume, free acid and aluminium are needed to say how long it lasts.',
      'Type the volume and the last titration of this bath.',
    );
  }
  const perM2 = use.dragOutM3PerM2 ?? DRAG_OUT_M3_PER_M2.usual;
  const lostM3PerC = perM2 * use.areaPerCoulombM2;
  const density = POROUS_FILM_DENSITY_KG_PER_M3;
  const gain = (filmDensity: number) => dissolvedPerCoulombKg(use.chargePerVolumeCPerM3, filmDensity);
  const after = (gainKgPerC: number): number =>
    aluminiumAfter(use.aluminiumKgPerM3, gainKgPerC, lostM3PerC, use.volumeM3, use.chargeC);
  const usual = after(gain(FILM_KG_PER_M3));
  const low = after(gain(density.high));
  const high = after(gain(density.low));
  const freeAcid = (filmDensity: number): number =>
    Math.max(0, use.freeAcidKgPerM3 - (use.chargeC * gain(filmDensity) * ACID_PER_ALUMINIUM) / use.volumeM3);
  const left = chargeUntil(use, gain(FILM_KG_PER_M3), lostM3PerC, ALUMINIUM_LIMITS.limitKgPerM3);
  const inputs = [
    figureInput('Al₀', 'aluminium now', 'massConcentration', use.aluminiumKgPerM3, 'g/L'),
    figureInput('Q', 'charge', 'charge', use.chargeC),
    figureInput('V', 'bath', 'volume', use.volumeM3),
    figureInput('k', 'charge constant', 'chargePerVolume', use.chargePerVolumeCPerM3),
    figureInput('ρ', 'film', 'density', FILM_KG_PER_M3),
    figureInput('q', 'drag-out per A·h', 'volume', lostM3PerC * SECONDS_PER_HOUR, 'mL'),
  ];
  const replace = usual > ALUMINIUM_LIMITS.warnKgPerM3 ? 1 - ALUMINIUM_LIMITS.idealLowKgPerM3 / usual : 0;
  return success({
    aluminiumAfter: {
      label: 'Dissolved aluminium after this work',
      kind: 'massConcentration',
      unit: 'g/L',
      valueSi: usual,
      lowSi: low,
      highSi: high,
      formula: 'Al = Al₀ + Q · (M/3F − 0.529 · ρ/k) / V, less drag-out',
      inputs,
      source: { standing: 'definition', text: 'Faraday’s law less the aluminium kept in the film' },
    },
    freeAcidAfter: {
      label: 'Free acid after this work',
      kind: 'massConcentration',
      unit: 'g/L',
      valueSi: freeAcid(FILM_KG_PER_M3),
      lowSi: freeAcid(density.low),
      highSi: freeAcid(density.high),
      formula: 'c = c₀ − 5.45 · dissolved aluminium / V',
      inputs: [
        figureInput('c₀', 'free acid now', 'massConcentration', use.freeAcidKgPerM3, 'g/L'),
        ...inputs,
      ],
      source: {
        standing: 'definition',
        text: 'aluminium held as Al₂(SO₄)₃; drag-out made up with the same acid',
      },
    },
    chargeLeft:
      left === null
        ? null
        : {
            label: 'Charge until the aluminium limit',
            kind: 'charge',
            valueSi: left,
            formula: 'charge at which Al reaches 20 g/L',
            inputs,
            source: ALUMINIUM_LIMITS.source,
          },
    replaceFraction: {
      label: 'Part of the bath to replace',
      kind: 'fraction',
      valueSi: replace,
      formula: 'f = 1 − 4 g/L / Al, once Al is above 15 g/L',
      inputs: [figureInput('Al', 'aluminium', 'massConcentration', usual, 'g/L')],
      source: ALUMINIUM_LIMITS.source,
    },
    advice: adviceAt(usual),
  });
}

function adviceAt(aluminiumKgPerM3: number): BathLife['advice'] {
  if (aluminiumKgPerM3 < ALUMINIUM_LIMITS.idealLowKgPerM3) return 'young';
  if (aluminiumKgPerM3 <= ALUMINIUM_LIMITS.warnKgPerM3) return 'good';
  return aluminiumKgPerM3 <= ALUMINIUM_LIMITS.limitKgPerM3 ? 'refresh soon' : 'refresh now';
}

function aluminiumAfter(now: number, gain: number, lost: number, volumeM3: number, chargeC: number): number {
  if (lost === 0) return now + (gain * chargeC) / volumeM3;
  const settled = gain / lost;
  return settled + (now - settled) * Math.exp((-lost * chargeC) / volumeM3);
}

/** Charge until `limit`, null if it is never reached, 0 if it has been. */
function chargeUntil(use: BathUse, gain: number, lost: number, limit: number): number | null {
  if (use.aluminiumKgPerM3 >= limit) return 0;
  if (lost === 0) return gain > 0 ? ((limit - use.aluminiumKgPerM3) * use.volumeM3) / gain : null;
  const settled = gain / lost;
  if (settled <= limit) return null;
  return (use.volumeM3 / lost) * Math.log((settled - use.aluminiumKgPerM3) / (settled - limit));
}
