import { COMMA_CSV, POINT_CSV, type CsvStyle } from '../../core/units/csv-style.ts';

/**
 * The way of writing tables that a spreadsheet of the reader's own language opens: with a decimal comma, 12.2 would be read there as a date
 * and a row of commas as one cell.
 *
 * @param locale the browser's own where absent
 */
export function readerCsv(locale?: string): CsvStyle {
  const parts = new Intl.NumberFormat(locale).formatToParts(1.5);
  return parts.some(({ type, value }) => type === 'decimal' && value === ',') ? COMMA_CSV : POINT_CSV;
}
