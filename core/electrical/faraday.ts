import type { Figure, Source } from '../figure/figure.ts';

/** CODATA 2018, exact by the SI's definitions of e and N_A. */
export const FARADAY_C_PER_MOL = 96_485.33212;

/** IUPAC standard atomic weights (2021, abridged): Al 26.982, O 15.999; Al 26.9815 with one more digit. */
const ALUMINA_KG_PER_MOL = (2 * 26.9815 + 3 * 15.999) / 1000;
const ELECTRONS_PER_ALUMINA = 6;

/**
 * Apparent density of a porous film, kg/m³, pores included: from the most open film met with in practice to the most
 * compact. AAMA 611 asks for at least 2320 kg/m³; 2200-2700 is the range handbooks give (from memory).
 */
export const POROUS_FILM_DENSITY_KG_PER_M3 = { low: 2200, usual: 2500, high: 2700 } as const;

const FARADAY_SOURCE: Source = {
  standing: 'definition',
  text: 'Faraday’s law, 2 Al + 3 H₂O → Al₂O₃ + 6 H⁺ + 6 e⁻; F from CODATA 2018, atomic weights from IUPAC 2021',
};

/**
 * The least charge that can make a unit volume of film: every electron makes oxide and none of it dissolves.
 * @param filmDensityKgPerM3 apparent density, pores included
 * @returns C/m³; one C/cm²/µm is 1e10 C/m³
 */
export function leastChargePerVolumeCPerM3(filmDensityKgPerM3: number): number {
  if (!(filmDensityKgPerM3 > 0)) {
    throw new RangeError(`leastChargePerVolumeCPerM3: filmDensityKgPerM3 is ${filmDensityKgPerM3}`);
  }
  return (filmDensityKgPerM3 * ELECTRONS_PER_ALUMINA * FARADAY_C_PER_MOL) / ALUMINA_KG_PER_MOL;
}

/** The bound as a figure: at the usual film density, with the range from the most open to the most compact film. */
export function faradayBound(): Figure {
  const { low, usual, high } = POROUS_FILM_DENSITY_KG_PER_M3;
  return {
    label: 'Faraday’s bound, every electron making film',
    kind: 'chargePerVolume',
    valueSi: leastChargePerVolumeCPerM3(usual),
    lowSi: leastChargePerVolumeCPerM3(low),
    highSi: leastChargePerVolumeCPerM3(high),
    formula: 'k ≥ ρ · 6 F / M(Al₂O₃)',
    inputs: [
      {
        symbol: 'ρ',
        label: 'density of the film, pores included (2.2 to 2.7)',
        kind: 'density',
        valueSi: usual,
      },
    ],
    source: FARADAY_SOURCE,
  };
}
