import { formatIn } from '../units/format-quantity.ts';
import { doubtReading, type Doubt, type DoubtContext } from './doubt-reading.ts';
import type { Reading } from './readings.ts';

/** Volts over amps of two neighbours of a sound run differ by less (typed every five minutes; what a digit too many or too few makes of it does not). */
const FAR = 0.4;

type Pair = Pick<Reading, 'voltageV' | 'currentA'>;

/**
 * What speaks against the numbers an earlier reading is put right to: what would speak against them as typed at its time, and then the
 * reading that came after it. A wrong one there can hide a lost contact, so it is asked about as a new one is.
 */
export function doubtPutRight(
  right: Omit<Reading, 'tS'>,
  context: DoubtContext,
  next: Pair | null,
): Doubt | null {
  const found = doubtReading(right, context);
  if (found || !next || !(next.currentA > 0 && next.voltageV > 0) || !(right.currentA > 0)) return found;
  const off = right.voltageV / right.currentA / (next.voltageV / next.currentA);
  if (off <= 1 + FAR && off >= 1 / (1 + FAR)) return null;
  const said = ({ voltageV, currentA }: Pair): string =>
    `${formatIn('voltage', voltageV, 'V', 3).text} and ${formatIn('current', currentA, 'A', 3).text}`;
  return {
    reason: `${said(right)}, where the reading after it says ${said(next)}.`,
    remedy: 'Both are hardly right. Is this what stood there?',
    meant: null,
  };
}
