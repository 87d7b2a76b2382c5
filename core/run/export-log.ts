import { POINT_CSV, type CsvStyle } from '../units/csv-style.ts';
import type { Readings } from './readings.ts';

/**
 * Readings as CSV: t_s, volt, amp and, where it was read, degC; an empty cell where the temperature was not read. Simulated ones
 * say so in a remark at the end, which importLog reads back.
 *
 * @param style of the reader's spreadsheet; a point as decimal mark where absent
 */
export function exportLog(readings: Readings, remark = '', style: CsvStyle = POINT_CSV): string {
  const { tS, voltageV, currentA, bathTemperatureK } = readings;
  const headings = ['t_s', 'volt', 'amp', ...(bathTemperatureK ? ['degC'] : [])];
  const lines = [headings.join(style.delimiter)];
  const plain = (value: number): string => plainNumber(value).replace('.', style.decimal);
  for (let i = 0; i < tS.length; i++) {
    const cells = [plain(tS[i]!), plain(voltageV[i]!), plain(currentA[i]!)];
    if (bathTemperatureK) {
      const kelvin = bathTemperatureK[i]!;
      cells.push(Number.isNaN(kelvin) ? '' : plain(kelvin - 273.15));
    }
    lines.push(cells.join(style.delimiter));
  }
  if (readings.origin === 'simulated')
    lines.push(`# simulated${remark === '' ? '' : `: ${remark.replace(/\s+/g, ' ')}`}`);
  else if (remark !== '') lines.push(`# ${remark.replace(/\s+/g, ' ')}`);
  return `${lines.join('\n')}\n`;
}

/** Six decimals are below any meter's last digit; no exponent. */
function plainNumber(value: number): string {
  const text = value.toFixed(6).replace(/\.?0+$/, '');
  return text === '-0' ? '0' : text;
}
