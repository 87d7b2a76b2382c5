import { expect, it } from 'vitest';
import { withFahrenheit } from '../../../core/units/with-fahrenheit.ts';

// °F = 1.8 · °C + 32, exact by definition; whole degrees unless the Celsius had a tenth.
it.each([
  ['The bath ends above 24 °C, soft.', 'The bath ends above 24 °C (75 °F), soft.'],
  ['Warm it to 20-22 °C first.', 'Warm it to 20-22 °C (68-72 °F) first.'],
  ['Chill to −2 to 5 °C.', 'Chill to −2 to 5 °C (28 to 41 °F).'],
  ['it leaves −10 to 60 °C', 'it leaves −10 to 60 °C (14 to 140 °F)'],
  ['ends at 27.3 °C, above 24.0 °C', 'ends at 27.3 °C (81.1 °F), above 24.0 °C (75.2 °F)'],
  ['below −20 °C', 'below −20 °C (−4 °F)'],
  ['at 8.0 °C (46 °F)', 'at 8.0 °C (46 °F)'],
  ['nothing of the kind', 'nothing of the kind'],
])('%s', (text, inUs) => {
  expect(withFahrenheit(text, 'us')).toBe(inUs);
  expect(withFahrenheit(text, 'metric')).toBe(text);
});
