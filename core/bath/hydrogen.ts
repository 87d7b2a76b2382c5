import type { Figure, Source } from '../figure/figure.ts';
import { figureInput } from '../figure/figure-input.ts';
import { FARADAY_C_PER_MOL } from '../electrical/faraday.ts';
import { ALUMINIUM_KG_PER_MOL, gasM3PerMol } from '../reference/thermochemistry.ts';

/** Hydrogen burns in air from here (NFPA; EN 50272-3). */
export const HYDROGEN_LOWER_LIMIT = 0.04;
/** A quarter of the lower limit: what ventilation must keep it under. */
export const HYDROGEN_ALLOWED = 0.01;
/** EN 50272-3: 24 (dilution) · 0.42·10⁻³ m³/(A·h) · 5 (safety) = 0.05 m³/h for every ampere of a cell. */
const VENTILATION_M3_PER_C = 0.05 / 3600;

export interface HydrogenAir {
  /** Given off, at the room’s temperature. */
  readonly hydrogen: Figure;
  /** Fresh air by the battery-room rule, safety factor five. */
  readonly air: Figure;
  /** Fresh air that just keeps the mean at 1 %, no safety factor. */
  readonly leastAir: Figure;
}

const VENTILATION: Source = {
  standing: 'published',
  text: 'EN 50272-3, ventilation of traction battery rooms: Q = 0.05 · n · I m³/h; an anodizing tank counted as one cell',
};

/** Hydrogen from the cathode and the air it needs. Throws RangeError for a negative current. */
export function hydrogenAir(currentA: number, roomK: number): HydrogenAir {
  if (!(currentA >= 0)) throw new RangeError(`hydrogenAir: currentA is ${currentA}`);
  const flow = (currentA / (2 * FARADAY_C_PER_MOL)) * gasM3PerMol(roomK);
  const current = figureInput('I', 'current', 'current', currentA);
  const room = figureInput('T', 'room', 'temperature', roomK);
  return {
    hydrogen: {
      label: 'Hydrogen',
      kind: 'volumeFlow',
      valueSi: flow,
      formula: 'q = I / 2F · R·T/p',
      inputs: [current, room],
      source: { standing: 'definition', text: 'Faraday’s law, 2 H⁺ + 2 e⁻ → H₂, ideal gas at 101.325 kPa' },
    },
    air: {
      label: 'Fresh air',
      kind: 'volumeFlow',
      unit: 'm³/h',
      valueSi: VENTILATION_M3_PER_C * currentA,
      formula: 'Q = 24 · 0.42·10⁻³ m³/(A·h) · 5 · I',
      inputs: [current],
      source: VENTILATION,
    },
    leastAir: {
      label: 'Fresh air for 1 % hydrogen, no reserve',
      kind: 'volumeFlow',
      unit: 'm³/h',
      valueSi: flow / HYDROGEN_ALLOWED,
      formula: 'Q = q / 1 %',
      inputs: [figureInput('q', 'hydrogen', 'volumeFlow', flow), room],
      source: {
        standing: 'published',
        text: 'hydrogen burns in air from 4 % (NFPA); a quarter of that is 1 %',
      },
    },
  };
}

/** Hydrogen from aluminium dissolving in lye, m³: 2 Al + 2 OH⁻ + 6 H₂O → 2 Al(OH)₄⁻ + 3 H₂. */
export function hydrogenFromLye(aluminiumKg: number, roomK: number): Figure {
  if (!(aluminiumKg >= 0)) throw new RangeError(`hydrogenFromLye: aluminiumKg is ${aluminiumKg}`);
  return {
    label: 'Hydrogen from the lye',
    kind: 'volume',
    valueSi: (aluminiumKg / ALUMINIUM_KG_PER_MOL) * 1.5 * gasM3PerMol(roomK),
    formula: 'V = m / M · 3/2 · R·T/p',
    inputs: [
      figureInput('m', 'aluminium dissolved', 'mass', aluminiumKg),
      figureInput('T', 'room', 'temperature', roomK),
    ],
    source: { standing: 'definition', text: 'reaction of aluminium with lye, ideal gas at 101.325 kPa' },
  };
}
