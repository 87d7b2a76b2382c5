/** Ways to set cathodes, told apart only where a film gauge could: 1 % of the film for eddy current, common practice. */
import { describe, expect, it } from 'vitest';
import { mostEven } from '../../../core/field/most-even.ts';

const rows = (...spreads: number[]) => spreads.map((spread, id) => ({ id, spread }));
const ids = (of: { id: number }[]) => of.map(({ id }) => id);

describe('the most even of several ways', () => {
  it('is one where it stands out', () => {
    expect(ids(mostEven(rows(0.02, 0.05, 0.11)))).toEqual([0]);
    expect(ids(mostEven(rows(0.11, 0.2)))).toEqual([0]);
  });

  it('are all where they differ by what nobody could measure', () => {
    expect(ids(mostEven(rows(0.1104, 0.1106, 0.1107, 0.111)))).toEqual([0, 1, 2, 3]);
    expect(ids(mostEven(rows(0.001, 0.005)))).toEqual([0, 1]);
    expect(ids(mostEven(rows(0.001, 0.004, 0.02)))).toEqual([0, 1]);
  });

  it('of none is none', () => expect(mostEven([])).toEqual([]));
});
