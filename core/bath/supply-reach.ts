import type { Figure } from '../figure/figure.ts';

export interface SupplyReach {
  readonly verdict: 'reaches' | 'may not reach' | 'does not reach';
  readonly message: string;
  readonly remedy: string;
}

/** Whether the supply's voltage limit reaches what the cell is expected to need at the end of the run. */
export function supplyReach(endVoltage: Figure, supplyLimitV: number): SupplyReach {
  if (!(supplyLimitV > 0)) throw new RangeError(`supplyReach: supplyLimitV is ${supplyLimitV}`);
  const low = endVoltage.lowSi ?? endVoltage.valueSi;
  const high = endVoltage.highSi ?? endVoltage.valueSi;
  if (supplyLimitV >= high) {
    return {
      verdict: 'reaches',
      message: 'The supply reaches the voltage this run is expected to need.',
      remedy: 'Nothing to do.',
    };
  }
  const remedy = 'Lower the current density, coat a thinner film or use a supply with more volts.';
  if (supplyLimitV >= low) {
    return {
      verdict: 'may not reach',
      message: 'The run may need more volts than the supply has, and the current would then fall by itself.',
      remedy: `${remedy} If the current falls, run on until the charge is reached.`,
    };
  }
  return {
    verdict: 'does not reach',
    message: 'The supply has too few volts to hold this current density.',
    remedy,
  };
}
