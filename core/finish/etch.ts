import type { Figure } from '../figure/figure.ts';
import { figureInput } from '../figure/figure-input.ts';
import { LYE_ATTACK } from '../reference/caustic-etch.ts';
import { GAS_CONSTANT_J_PER_MOL_K } from '../reference/thermochemistry.ts';
import { failure, success, type Result } from '../result.ts';

export interface Etch {
  /** Loss of each surface. */
  readonly rate: Figure;
  readonly removed: Figure;
}

/**
 * Metal taken off each surface by lye: r = r₀ · (c/c₀)^0.7 · e^(−E/R · (1/T − 1/T₀)). Half to 1.8 times the usual
 * value. Fails with `etch-unknown` outside 10-150 g/L and 10-85 °C.
 */
export function etch(lyeKgPerM3: number, temperatureK: number, timeS: number): Result<Etch> {
  const attack = LYE_ATTACK;
  const known =
    lyeKgPerM3 >= attack.lyeLowKgPerM3 &&
    lyeKgPerM3 <= attack.lyeHighKgPerM3 &&
    temperatureK >= attack.lowK &&
    temperatureK <= attack.highK;
  if (!known || !(timeS >= 0)) {
    return failure(
      'etch-unknown',
      'How fast lye takes metal off is known for 10 to 150 g/L and 10 to 85 °C.',
      'Check strength, temperature and time, or measure the loss on a scrap.',
    );
  }
  const rate =
    attack.rateMPerS *
    (lyeKgPerM3 / attack.atLyeKgPerM3) ** attack.order *
    Math.exp((-attack.activationJPerMol / GAS_CONSTANT_J_PER_MOL_K) * (1 / temperatureK - 1 / attack.atK));
  const inputs = [
    figureInput('c', 'lye', 'massConcentration', lyeKgPerM3, 'g/L'),
    figureInput('T', 'temperature', 'temperature', temperatureK),
  ];
  return success({
    rate: {
      label: 'Metal removed per minute, each surface',
      kind: 'speed',
      valueSi: rate,
      lowSi: rate * attack.lowFactor,
      highSi: rate * attack.highFactor,
      formula: 'r = 17 µm/min · (c / 111 g/L)^0.7 · e^(−46 kJ/mol / R · (1/T − 1/353 K))',
      inputs,
      source: attack.source,
    },
    removed: {
      label: 'Metal removed, each surface',
      kind: 'length',
      unit: 'µm',
      valueSi: rate * timeS,
      lowSi: rate * attack.lowFactor * timeS,
      highSi: rate * attack.highFactor * timeS,
      formula: 'x = r · t',
      inputs: [...inputs, figureInput('t', 'time', 'time', timeS)],
      source: attack.source,
    },
  });
}
