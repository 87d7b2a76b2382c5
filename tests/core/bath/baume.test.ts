/** Degrees Baumé of the US heavy scale against the table that acid makers print (Manufacturing Chemists' Association, 60 °F; rows from memory). */
import { expect, it } from 'vitest';
import { parseAcid } from '../../../core/bath/parse-acid.ts';
import { valueOf } from '../value-of.ts';

it.each([
  ['10 °Bé', 10.77],
  ['30Be', 34.63],
  ['50 Baume', 62.18],
  ['60 deg Be', 77.67],
  ['66Be', 93.19],
])('%s is %d weight per cent', (text, percent) => {
  const acid = valueOf(parseAcid(text));
  // The tables' densities differ in the fourth digit, and near 66 °Bé a degree is 7 %.
  expect(acid.as === 'massFraction' && Math.abs(acid.massFraction * 100 - percent)).toBeLessThan(
    percent > 70 ? 0.35 : 0.15,
  );
});

it('refuses what no sulfuric acid has', () => {
  expect(parseAcid('70 °Bé')).toMatchObject({ ok: false, error: { code: 'acid-not-read' } });
  expect(parseAcid('35 Bq')).toMatchObject({ ok: false, error: { code: 'acid-not-read' } });
});
