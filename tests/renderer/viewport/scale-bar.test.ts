import { describe, expect, it } from 'vitest';
import { scaleBar } from '../../../renderer/viewport/scale-bar.ts';

describe('scaleBar', () => {
  it.each([
    // metres a pixel, unit, text, pixels: the length over metres a pixel; 1 in = 25.4 mm exactly.
    [0.0001, 'mm', '10 mm', 100],
    [0.00021, 'mm', '20 mm', 20 / 0.21],
    [0.001, 'mm', '100 mm', 100],
    [1e-6, 'mm', '0.1 mm', 100],
    [0.0254 / 50, 'in', '2 in', 100],
    [0.0254 / 400, 'in', '1/4 in', 100],
    [0.0254 / 2000, 'in', '1/16 in', 125],
    [0.0254 / 100_000, 'in', '0.001 in', 100],
  ] as const)('at %d m a pixel in %s is "%s"', (metresPerPixel, unit, text, widthPx) => {
    const bar = scaleBar(metresPerPixel, unit, 150);
    expect(bar.text).toBe(text);
    expect(bar.widthPx).toBeCloseTo(widthPx, 6);
  });

  it('fits and fills at any zoom', () => {
    for (let exponent = -7; exponent < 1; exponent += 0.013) {
      for (const unit of ['mm', 'in'] as const) {
        const { widthPx } = scaleBar(10 ** exponent, unit, 150);
        expect(widthPx).toBeLessThanOrEqual(150.001);
        // 1, 2, 5 and halves never leave more than 60 % empty.
        expect(widthPx).toBeGreaterThan(59);
      }
    }
  });

  it('throws for a scale that is none', () => {
    expect(() => scaleBar(0, 'mm', 150)).toThrow(RangeError);
    expect(() => scaleBar(Number.NaN, 'mm', 150)).toThrow(RangeError);
  });
});
