import { sulfuricDensity, strengthFromConcentration } from '../reference/sulfuric-density.ts';
import { sulfuricHeatCapacityJPerKgK } from '../reference/sulfuric-heat-capacity.ts';
import { ICE_MELTING_J_PER_KG, WATER_J_PER_KG_K } from '../reference/thermochemistry.ts';
import { failure, success, type Result } from '../result.ts';

export interface IcedBathRequest {
  readonly volumeM3: number;
  /** Free acid at 20 °C. */
  readonly acidKgPerM3: number;
  /** Before the ice. */
  readonly startK: number;
  /** At 0 °C. */
  readonly iceKg: number;
  /** What warms the bath by 1 K, where the shop’s own runs tell it; null takes the table’s. */
  readonly ownJPerK: number | null;
}

export interface IcedBath {
  /** Once the ice has melted. */
  readonly startK: number;
  /** With the ice’s water. */
  readonly capacityJPerK: number;
  readonly massFraction: number;
}

/**
 * The bath after its ice has melted: T = (C · T₀ + m · c_w · 273.15 K − m · L) / (C + m · c_w).
 * Fails with `too-much-ice` and as the acid's tables do.
 */
export function icedBath({
  volumeM3,
  acidKgPerM3,
  startK,
  iceKg,
  ownJPerK,
}: IcedBathRequest): Result<IcedBath> {
  const strength = strengthFromConcentration(acidKgPerM3, 293.15);
  if (!strength.ok) return strength;
  const density = sulfuricDensity(strength.value, 293.15);
  if (!density.ok) return density;
  const specific = sulfuricHeatCapacityJPerKgK(strength.value);
  if (!specific.ok) return specific;
  const bathJPerK = ownJPerK ?? density.value.value * volumeM3 * specific.value;
  const iceJPerK = iceKg * WATER_J_PER_KG_K;
  const icedK =
    (bathJPerK * startK + iceJPerK * 273.15 - iceKg * ICE_MELTING_J_PER_KG) / (bathJPerK + iceJPerK);
  // A bath that is colder than that by itself is the balance's to judge.
  if (iceKg > 0 && icedK < 268.15) {
    return failure(
      'too-much-ice',
      'This much ice would cool the bath below −5 °C before all of it melts.',
      'Use less ice and add it as the bath warms.',
    );
  }
  return success({ startK: icedK, capacityJPerK: bathJPerK + iceJPerK, massFraction: strength.value });
}

/** A bath’s thermometer is read to about this: a start that is over the limit by less is at it, K. */
export const THERMOMETER_K = 0.1;

/** Ice at 0 °C that takes this heat and warms to `toK` with it, kg. */
export function iceForHeatKg(heatJ: number, toK: number): number {
  return heatJ / (ICE_MELTING_J_PER_KG + WATER_J_PER_KG_K * Math.max(0, toK - 273.15));
}
