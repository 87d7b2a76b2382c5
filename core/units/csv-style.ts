/** How a table is written for the reader's spreadsheet: where the decimal mark is a comma, columns are parted by semicolons. */
export interface CsvStyle {
  readonly delimiter: ',' | ';';
  readonly decimal: '.' | ',';
}

export const POINT_CSV: CsvStyle = { delimiter: ',', decimal: '.' };
export const COMMA_CSV: CsvStyle = { delimiter: ';', decimal: ',' };
