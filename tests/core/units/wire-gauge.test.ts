import { expect, it } from 'vitest';
import { parseQuantity } from '../../../core/units/parse-quantity.ts';
import { wireGaugeM } from '../../../core/units/wire-gauge.ts';

/** ASTM B258, table 1: diameters in inches as printed there, and the millimetres of wire tables. */
it.each([
  ['4/0 AWG', 0.46, 11.68],
  ['0000AWG', 0.46, 11.68],
  ['1/0 AWG', 0.3249, 8.251],
  ['AWG 8', 0.1285, 3.264],
  ['12 AWG', 0.0808, 2.053],
  ['#14 awg', 0.0641, 1.628],
  ['36AWG', 0.005, 0.127],
  ['40 AWG', 0.0031, 0.0799],
])('%s is %d in, %d mm', (text, inches, mm) => {
  const read = parseQuantity('length', text, 'mm');
  expect(read.ok && read.value / 0.0254).toBeCloseTo(inches, 4);
  expect(wireGaugeM(text)! * 1e3).toBeCloseTo(mm, 2);
});

it('no gauge is guessed', () => {
  for (const text of ['12', '12 ga', '41 AWG', '5/0 AWG', '2.5 AWG']) expect(wireGaugeM(text)).toBeNull();
  expect(parseQuantity('area', '12 AWG').ok).toBe(false);
});
