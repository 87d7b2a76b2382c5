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
