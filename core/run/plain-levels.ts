import type { Reading } from './readings.ts';
import { isShort } from './short-level.ts';

/** Short, no current and power off need no statistics: two readings in a row say it. */
export interface PlainLevels {
  readonly judge: (reading: Reading, usual: UsualLevel) => PlainFinding;
}

/** What the run has had lately. */
export interface UsualLevel {
  readonly voltageV: number;
  readonly currentA: number;
}

/** `odd` is a reading no rule should look at, `said` what two in a row mean. */
export interface PlainFinding {
  readonly odd: boolean;
  readonly said?: 'short' | 'contact-total' | 'supply-off';
}

export function createPlainLevels(): PlainLevels {
  let zeroRun = 0;
  let shortRun = 0;
  return {
    judge: (reading, usual) => {
      const { voltageV, currentA } = reading;
      const dead = currentA < 0.05 * usual.currentA;
      const shorted = isShort(reading, usual);
      shortRun = shorted ? shortRun + 1 : 0;
      zeroRun = dead ? zeroRun + 1 : 0;
      const odd = shorted || dead;
      if (shortRun === 2) return { odd, said: 'short' };
      if (zeroRun !== 2) return { odd };
      return { odd, said: voltageV > 0.4 * usual.voltageV ? 'contact-total' : 'supply-off' };
    },
  };
}
