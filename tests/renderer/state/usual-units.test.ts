import { expect, it } from 'vitest';
import { usualUnits } from '../../../renderer/state/usual-units.ts';

it.each([
  ['en-US', 'us'],
  ['es-US', 'us'],
  ['en-LR', 'us'],
  ['my-MM', 'us'],
  ['en-GB', 'metric'],
  ['en', 'metric'],
  ['de-DE', 'metric'],
  ['', 'metric'],
  ['not a tag', 'metric'],
] as const)('“%s” starts in %s units', (language, system) => {
  expect(usualUnits(language)).toBe(system);
});
