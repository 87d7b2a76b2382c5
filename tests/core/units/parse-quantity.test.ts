import { describe, expect, it } from 'vitest';
import { formatIn, formatNumber, formatQuantity } from '../../../core/units/format-quantity.ts';
import { parseQuantity } from '../../../core/units/parse-quantity.ts';
import type { QuantityKind } from '../../../core/units/unit-table.ts';

const read = (kind: QuantityKind, text: string, bare?: string): number => {
  const parsed = parseQuantity(kind, text, bare);
  if (!parsed.ok) throw new Error(parsed.error.message);
  return parsed.value;
};
const code = (kind: QuantityKind, text: string, bare?: string): string => {
  const parsed = parseQuantity(kind, text, bare);
  return parsed.ok ? 'ok' : parsed.error.code;
};

describe('reading quantities', () => {
  it('times as a clock shows them, where it is certain what the parts are', () => {
    expect(read('time', '1:02:30')).toBe(3750);
    expect(read('time', '10:00', 'min')).toBe(600);
    expect(read('time', '0:45', 's')).toBe(45);
    expect(read('time', '1:30', 'h')).toBe(5400);
    expect(code('time', '10:00')).toBe('quantity-unknown-unit');
    expect(code('time', '10:75', 'min')).toBe('quantity-unknown-unit');
    expect(code('length', '10:00', 'mm')).toBe('quantity-unknown-unit');
  });

  // Exact by the definition of the inch (25.4 mm) and the foot (304.8 mm), 1959.
  it.each([
    ['length', '1 mil', 25.4e-6],
    ['length', '25 µm', 25e-6],
    ['length', '25um', 25e-6],
    ['length', '1/8 in', 0.003175],
    ['length', '1 1/2 in', 0.0381],
    ['length', '2,5 mm', 0.0025],
    ['area', '88 in2', 88 * 0.0254 ** 2],
    ['area', '1 ft²', 0.09290304],
    ['currentDensity', '6 A/ft2', 6 / 0.09290304],
    ['currentDensity', '1.5 A/dm²', 150],
    ['currentDensity', '12 ASF', 12 / 0.09290304],
    ['charge', '7.333 A·h', 7.333 * 3600],
    ['time', '5min', 300],
    ['time', '1.5 h', 5400],
    ['current', '250 mA', 0.25],
    ['temperature', '68 °F', 293.15],
    ['temperature', '20 C', 293.15],
    ['volume', '1 gal', 3.785411784e-3],
  ] as const)('%s "%s"', (kind, text, si) => {
    expect(read(kind, text)).toBeCloseTo(si, 12);
  });

  // Metal finishing practice: 1 A/ft² is 0.107639 A/dm²; exact from the foot.
  it('agrees with the trade’s conversion of A/ft² to A/dm²', () => {
    expect(formatIn('currentDensity', read('currentDensity', '1 A/ft2'), 'A/dm²', 6).number).toBe('0.107639');
  });

  // “How to Apply the 720 Rule …”, trade journal: 720 A·min/ft² per mil; in SI 1.8307 C/cm² per µm.
  it('agrees with the 720 rule in other units', () => {
    const k = read('chargePerVolume', '720 A·min/ft²/mil');
    expect(formatIn('chargePerVolume', k, 'C/cm²/µm', 5).number).toBe('1.8307');
    expect(formatIn('chargePerVolume', k, 'A·min/dm²/µm', 5).number).toBe('3.0512');
    expect(formatIn('chargePerVolume', k, 'A·h/m²/µm', 5).number).toBe('5.0853');
  });

  it('never guesses a unit', () => {
    expect(code('length', '25')).toBe('quantity-no-unit');
    expect(read('length', '25', 'µm')).toBeCloseTo(25e-6, 15);
  });

  it.each([
    ['length', '', 'quantity-empty'],
    ['length', 'abc', 'quantity-not-a-number'],
    ['length', '1.234,5 mm', 'quantity-two-points'],
    ['length', '5 kg', 'quantity-unknown-unit'],
    ['length', '1e999 mm', 'quantity-not-a-number'],
    ['current', '4 V', 'quantity-unknown-unit'],
  ] as const)('refuses %s "%s" as %s', (kind, text, expected) => {
    expect(code(kind, text)).toBe(expected);
  });

  it('tells mA from MA and does not take one for the other', () => {
    expect(code('length', '3 M')).toBe('ok');
    expect(read('current', '3 mA')).toBeCloseTo(0.003, 12);
  });
});

describe('printing quantities', () => {
  it('keeps whole digits and the asked-for significance', () => {
    expect(formatNumber(1234.5)).toBe('1235');
    expect(formatNumber(0.0123456)).toBe('0.0123');
    expect(formatNumber(-0.0000000000001)).toBe('0');
    expect(formatNumber(9.999, 3)).toBe('10.00');
    expect(() => formatNumber(Number.NaN)).toThrow(RangeError);
  });

  it('prints in the preferred unit of each system', () => {
    expect(formatQuantity('area', 0.01, 'metric').text).toBe('100 cm²');
    expect(formatQuantity('temperature', 293.15, 'us').text).toBe('68.0 °F');
    expect(formatQuantity('fraction', 0.031, 'metric').text).toBe('3.10 %');
  });

  it('reads back what it prints', () => {
    for (const unit of ['µm', 'mil', 'mm', 'in', 'm']) {
      const text = formatIn('length', 123.4e-6, unit, 9).text;
      expect(read('length', text)).toBeCloseTo(123.4e-6, 10);
    }
  });
});
