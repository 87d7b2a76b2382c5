import { fromUnit, unitBySymbol } from '../../core/units/find-unit.ts';
import { formatNumber } from '../../core/units/format-quantity.ts';

export interface ScaleBar {
  readonly widthPx: number;
  /** Length with its unit, as on a ruler: "20 mm", "1/8 in". */
  readonly text: string;
}

const INCH_FRACTIONS = [2, 4, 8, 16, 32, 64];

/** The longest round length that fits in `maxPx`, at `metresPerPixel`. Inches below one are ruler fractions. */
export function scaleBar(metresPerPixel: number, unit: 'mm' | 'in', maxPx: number): ScaleBar {
  if (!(metresPerPixel > 0 && Number.isFinite(metresPerPixel))) {
    throw new RangeError(`metresPerPixel: ${metresPerPixel}`);
  }
  const perPixel = metresPerPixel / fromUnit(1, unitBySymbol('length', unit));
  const longest = perPixel * maxPx;
  if (unit === 'in' && longest < 1) {
    const parts = INCH_FRACTIONS.find((fraction) => 1 / fraction <= longest);
    if (parts !== undefined) return { widthPx: 1 / parts / perPixel, text: `1/${parts} in` };
  }
  const decade = 10 ** Math.floor(Math.log10(longest));
  const step = [5, 2, 1].find((factor) => factor * decade <= longest * (1 + 1e-9)) ?? 1;
  const length = step * decade;
  return { widthPx: length / perPixel, text: `${formatNumber(length, 1)} ${unit}` };
}
