import { expect, test } from 'vitest';
import type { Figure } from '../../../core/figure/figure.ts';
import { printFigure } from '../../../core/figure/print-figure.ts';

const figure = (change: Partial<Figure>): Figure => ({
  label: 'Voltage',
  kind: 'voltage',
  valueSi: 14.4567,
  formula: 'U',
  inputs: [],
  source: { text: 'a test', standing: 'published' },
  ...change,
});

// Half the range over the value decides: 14 % leaves three digits, 75 % two, 0.1 % all that is asked for.
test.each([
  [undefined, undefined, '14.46 V', ''],
  [12.4567, 16.4567, '14.5 V', '12.5 to 16.5 V'],
  [3.6, 25.3, '14 V', '3.6 to 25 V'],
  [14.4423, 14.4712, '14.46 V', '14.44 to 14.47 V'],
  [14.4567, 14.4567, '14.46 V', ''],
])('from %s to %s V prints %s', (lowSi, highSi, text, range) => {
  const bounds = lowSi === undefined ? {} : { lowSi, highSi };
  const printed = printFigure(figure(bounds), 'metric');
  expect(printed.value.text).toBe(text);
  expect(printed.range).toBe(range);
});

test('a temperature keeps its degrees: its share of the kelvins says nothing', () => {
  const warm = figure({ kind: 'temperature', valueSi: 294.55, lowSi: 292.15, highSi: 297.15 });
  expect(printFigure(warm, 'metric').value.text).toBe('21.4 °C');
});

// What a US shop's scales and jugs are marked in: pound 453.59237 g, gallon 231 in³, fluid ounce a 128th of it (exact).
test.each([
  ['mass', 2.5714, 'kg', '5.669 lb', '= 2.571 kg'],
  ['mass', 0.05, 'kg', '1.764 oz', '= 0.05 kg'],
  ['volume', 0.012, undefined, '3.17 US gal', '= 12 L'],
  ['volume', 0.0001, undefined, '3.381 fl oz', '= 0.1 L'],
  ['volume', 18.35e-6, 'mL', '18.35 mL', ''],
  ['volumeFlow', 0.183 / 3600, 'm³/h', '0.1077 ft³/min', '= 0.183 m³/h'],
  ['length', 25.4e-6, 'µm', '1 mil', '= 25.4 µm'],
] as const)('%s %d (%s) reads %s in a US shop', (kind, valueSi, unit, text, also) => {
  const asked = unit === undefined ? {} : { unit };
  const printed = printFigure(figure({ kind, valueSi, ...asked }), 'us');
  expect(printed.value.text).toBe(text);
  expect(printed.also).toBe(also);
});

test('the ends of a range have the unit of the figure between them', () => {
  // 1 lb is between; its low end alone would read in ounces.
  const printed = printFigure(
    figure({ kind: 'mass', valueSi: 0.5, lowSi: 0.4, highSi: 0.6, unit: 'kg' }),
    'us',
  );
  expect(printed.range).toBe('0.882 to 1.32 lb');
});
