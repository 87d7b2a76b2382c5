import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { parseFaceList, rowsForPart } from '../../../main/terminal/face-list.ts';

describe('faces on the command line', () => {
  it('reads lists, with a part number that holds until the next', () => {
    expect(parseFaceList('f3, F7')).toEqual({ ok: true, value: [{ row: 2 }, { row: 6 }] });
    expect(parseFaceList('2:f3,f7,1:f1')).toEqual({
      ok: true,
      value: [
        { row: 2, partNumber: 2 },
        { row: 6, partNumber: 2 },
        { row: 0, partNumber: 1 },
      ],
    });
    for (const bad of ['', ',', 'f0', 'f-1', '0:f1', '3', 'f1.5', '2:', 'f1 f2']) {
      expect(parseFaceList(bad).ok).toBe(false);
    }
  });

  it('gives every named face back exactly once, to its own part', () => {
    const face = fc.record({ row: fc.nat(99), partNumber: fc.integer({ min: 1, max: 3 }) });
    fc.assert(
      fc.property(fc.array(face, { minLength: 1, maxLength: 20 }), (faces) => {
        const text = faces.map(({ row, partNumber }) => `${partNumber}:f${row + 1}`).join(',');
        const read = parseFaceList(text);
        if (!read.ok) return false;
        const back = [1, 2, 3].flatMap((partNumber) => {
          const rows = rowsForPart(read.value, partNumber, 3, { count: 100 });
          return rows.ok ? rows.value.map((row) => `${partNumber}:${row}`) : ['refused'];
        });
        const wanted = faces.map(({ row, partNumber }) => `${partNumber}:${row}`);
        return back.sort().join() === wanted.sort().join();
      }),
    );
  });

  it('ends in a Result for any text', () => {
    fc.assert(fc.property(fc.string(), (text) => typeof parseFaceList(text).ok === 'boolean'));
  });
});
