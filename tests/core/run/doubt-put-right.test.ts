/** An earlier reading put right, at a bench supply of 30 V and 20 A and a plan of 4.26 A at about 14.5 V. */
import { describe, expect, it } from 'vitest';
import { doubtPutRight } from '../../../core/run/doubt-put-right.ts';
import type { DoubtContext } from '../../../core/run/doubt-reading.ts';

const context: DoubtContext = {
  plannedA: 4.26,
  expectedVoltageV: 14.5,
  supplyVoltageLimitV: 30,
  supplyCurrentLimitA: 20,
  bathTemperatureK: 293.15,
  last: { voltageV: 13.5, currentA: 3.6 },
  isLastSettled: false,
  system: 'us',
};
const next = { voltageV: 14.6, currentA: 4.26 };

describe('the first reading of the hold, put right', () => {
  it('is asked about where the supply can not give it, as a new one is', () => {
    expect(doubtPutRight({ voltageV: 999, currentA: 4.26 }, context, next)!.reason).toBe(
      '999 V is more than the supply gives (30.0 V).',
    );
  });

  it('is asked about where the reading after it can hardly follow, a digit too many or a place shifted', () => {
    const unlimited = { ...context, supplyVoltageLimitV: null, supplyCurrentLimitA: null };
    expect(doubtPutRight({ voltageV: 43, currentA: 4.26 }, unlimited, next)!.reason).toBe(
      '43.0 V and 4.26 A, where the reading after it says 14.6 V and 4.26 A.',
    );
    expect(doubtPutRight({ voltageV: 1.43, currentA: 4.26 }, unlimited, next)).not.toBeNull();
    expect(doubtPutRight({ voltageV: 14.3, currentA: 42.6 }, unlimited, next)).not.toBeNull();
  });

  it('is taken as it is where it fits, with no reading after it too', () => {
    for (const voltageV of [12.5, 14.3, 15.5]) {
      expect(doubtPutRight({ voltageV, currentA: 4.26 }, context, next)).toBeNull();
    }
    expect(doubtPutRight({ voltageV: 14.3, currentA: 4.26 }, context, null)).toBeNull();
    // What stood there may be much lower current at lower volts: the bath is the same.
    expect(doubtPutRight({ voltageV: 12.5, currentA: 3.2 }, context, next)).toBeNull();
  });
});
