import { FARADAY_C_PER_MOL } from '../electrical/faraday.ts';
import type { Source } from '../figure/figure.ts';

/** IUPAC 2021 abridged, kg/mol. */
export const ALUMINIUM_KG_PER_MOL = 26.9815e-3;
export const ALUMINA_KG_PER_MOL = (2 * 26.9815 + 3 * 15.999) / 1000;
export const SODIUM_HYDROXIDE_KG_PER_MOL = (22.99 + 15.999 + 1.008) / 1000;

/** Exact: CODATA 2018. */
export const GAS_CONSTANT_J_PER_MOL_K = 8.314462618;
/** eV per K, CODATA 2018. */
export const BOLTZMANN_EV_PER_K = 8.617333262e-5;
/** Standard atmosphere. */
export const ATMOSPHERE_PA = 101_325;

const ALUMINA_FORMATION_J_PER_MOL = -1_675_700;
const WATER_FORMATION_J_PER_MOL = -285_830;
/** Al → Al³⁺ + 3 e⁻ with hydrogen at the cathode, per mole of aluminium (from memory). */
const ALUMINIUM_ION_FORMATION_J_PER_MOL = -538_000;

/** 2 Al + 3 H₂O → Al₂O₃ + 3 H₂, J per mole of oxide. */
export const NET_OXIDATION_J_PER_MOL = ALUMINA_FORMATION_J_PER_MOL - 3 * WATER_FORMATION_J_PER_MOL;

/**
 * Heat of the reaction as volts to add to the cell voltage: heat = I · (V + this). `low` has the film amorphous
 * (0.1 V less, from memory); `high` has a quarter of the metal go into solution instead, as the 720 rule implies.
 */
export const REACTION_HEAT_V = {
  usual: -NET_OXIDATION_J_PER_MOL / (6 * FARADAY_C_PER_MOL),
  dissolving: -ALUMINIUM_ION_FORMATION_J_PER_MOL / (3 * FARADAY_C_PER_MOL),
  low: -NET_OXIDATION_J_PER_MOL / (6 * FARADAY_C_PER_MOL) - 0.1,
  high:
    0.75 * (-NET_OXIDATION_J_PER_MOL / (6 * FARADAY_C_PER_MOL)) + 0.25 * (538_000 / (3 * FARADAY_C_PER_MOL)),
  source: {
    standing: 'published',
    text: 'enthalpy of 2 Al + 3 H₂O → Al₂O₃ + 3 H₂ from formation enthalpies: Al₂O₃ −1675.7 kJ/mol (NIST), water −285.83 kJ/mol (CODATA, from memory)',
  } satisfies Source,
} as const;

export const ICE_MELTING_J_PER_KG = 333_550;
export const WATER_J_PER_KG_K = 4182;
/** At 20 °C, steam tables; 2.50 MJ/kg at 0 °C. */
export const EVAPORATION_J_PER_KG = 2.454e6;
export const TON_OF_REFRIGERATION_W = 3516.85;

/** Volume of an ideal gas, m³ per mol, at 101.325 kPa. */
export function gasM3PerMol(temperatureK: number): number {
  if (!(temperatureK > 0)) throw new RangeError(`gasM3PerMol: temperatureK is ${temperatureK}`);
  return (GAS_CONSTANT_J_PER_MOL_K * temperatureK) / ATMOSPHERE_PA;
}
