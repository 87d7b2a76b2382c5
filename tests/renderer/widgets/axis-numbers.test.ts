import { expect, test } from 'vitest';
import { axisNumbers } from '../../../renderer/widgets/axis-numbers.ts';

test('ticks have a decimal point and as many decimals as their step', () => {
  expect(axisNumbers([-0.5, -0, 0.5, 1], 0.5)).toEqual(['-0.5', '0.0', '0.5', '1.0']);
  expect(axisNumbers([20.25, 20.5], 0.25)).toEqual(['20.25', '20.50']);
  expect(axisNumbers([0, 1000, 2000], 1000)).toEqual(['0', '1000', '2000']);
  // As binary numbers come.
  expect(axisNumbers([0.1 + 0.2], 0.1)).toEqual(['0.3']);
});
