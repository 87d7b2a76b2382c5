import { expect, test } from 'vitest';
import { formatCount } from '../../../core/units/format-count.ts';

// ISO 80000-1:2022, 7.3.2: groups of three are parted by a small space and never by a point or a comma.
test('counts are parted by a narrow space from 10 000 on', () => {
  expect([0, 12, 4708, 10_000, 1_234_567, -20_500].map(formatCount)).toEqual([
    '0',
    '12',
    '4708',
    '10\u202f000',
    '1\u202f234\u202f567',
    '-20\u202f500',
  ]);
  expect(() => formatCount(2.5)).toThrow(RangeError);
});
