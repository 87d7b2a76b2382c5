/** Decimal marks of languages as the Unicode CLDR has them. */
import { describe, expect, it } from 'vitest';
import { readerCsv } from '../../../renderer/state/reader-csv.ts';

describe('tables for the reader’s spreadsheet', () => {
  it.each(['en-US', 'en-GB', 'ja', 'de-CH'])('%s has a point and commas between columns', (locale) => {
    expect(readerCsv(locale)).toEqual({ delimiter: ',', decimal: '.' });
  });

  it.each(['de-DE', 'fr-FR', 'pl', 'pt-BR'])('%s has a comma and semicolons between columns', (locale) => {
    expect(readerCsv(locale)).toEqual({ delimiter: ';', decimal: ',' });
  });
});
