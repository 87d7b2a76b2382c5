import { expect, it } from 'vitest';
import { inReaderUnits } from '../../../core/units/reader-units.ts';

// °F = 1.8 · °C + 32, exact by definition; whole degrees unless the Celsius had a tenth.
it.each([
  ['The bath ends above 24 °C, soft.', 'The bath ends above 75 °F (24 °C), soft.'],
  ['Warm it to 20-22 °C first.', 'Warm it to 68-72 °F (20-22 °C) first.'],
  ['Chill to −2 to 5 °C.', 'Chill to 28 to 41 °F (−2 to 5 °C).'],
  ['it leaves −10 to 60 °C', 'it leaves 14 to 140 °F (−10 to 60 °C)'],
  ['ends at 27.3 °C, above 24.0 °C', 'ends at 81.1 °F (27.3 °C), above 75.2 °F (24.0 °C)'],
  ['below −20 °C', 'below −4 °F (−20 °C)'],
  ['at 8.0 °C (46 °F)', 'at 46 °F (8.0 °C)'],
  // 1 A/dm² = 9.2903 A/ft²; 1 mil = 25.4 µm, both exact by the foot and the inch.
  ['13-16, 16-19 V at 1.25, 2.0 A/dm²', '13-16, 16-19 V at 12, 19 A/ft² (1.25, 2.0 A/dm²)'],
  ['Below about 0.6 A/dm² (6 A/ft²) it', 'Below about 6 A/ft² (0.6 A/dm²) it'],
  ['Above about 30 µm (1.2 mil) a bath at 20 °C', 'Above about 1.2 mil (30 µm) a bath at 68 °F (20 °C)'],
  [
    'coat 5 to 10 µm at 0.8 to 1 A/dm²',
    'coat 0.20 to 0.39 mil (5 to 10 µm) at 7.4 to 9.3 A/ft² (0.8 to 1 A/dm²)',
  ],
  ['2-3 min/µm, 5 µm/min', '2-3 min/µm, 5 µm/min'],
  ['68.0 °F (20.0 °C), above 75 °F (24 °C)', '68.0 °F (20.0 °C), above 75 °F (24 °C)'],
  // 1 in = 25.4 mm; a size is turned round where it is said both ways, and is left alone where it is not.
  ['“box” is 508 mm (20.0 in) long, as “mm”', '“box” is 20.0 in (508 mm) long, as “mm”'],
  ['Drill 6.5 mm, then M8', 'Drill 6.5 mm, then M8'],
  ['nothing of the kind', 'nothing of the kind'],
])('%s', (text, inUs) => {
  expect(inReaderUnits(text, 'us')).toBe(inUs);
  expect(inReaderUnits(text, 'metric')).toBe(text);
});
