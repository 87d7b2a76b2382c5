import { describe, expect, it } from 'vitest';
import { splitTriangles } from '../../../core/field/split-triangles.ts';
import { markTexts, pieceAt, scaleRange, thicknessScalar } from '../../../renderer/state/thickness-map.ts';

describe('scaleRange', () => {
  it('holds all maps on one scale', () => {
    const range = scaleRange([
      { leastM: 10e-6, meanM: 20e-6, mostM: 26e-6 },
      { leastM: 15e-6, meanM: 20e-6, mostM: 40e-6 },
    ]);
    expect(range).toEqual({ low: 10e-6, high: 40e-6 });
  });

  it('goes from the thinnest to the thickest place of a map that spans a few per cent', () => {
    expect(scaleRange([{ leastM: 19.4e-6, meanM: 20e-6, mostM: 20.8e-6 }])).toEqual({
      low: 19.4e-6,
      high: 20.8e-6,
    });
  });

  it('does not blow rounding up into colours: a hundredth of the mean to either side at least', () => {
    const { low, high } = scaleRange([{ leastM: 19.99e-6, meanM: 20e-6, mostM: 20.01e-6 }]);
    expect(low).toBeCloseTo(19.8e-6, 12);
    expect(high).toBeCloseTo(20.2e-6, 12);
  });
});

describe('thicknessScalar', () => {
  it('marks what carries no current, also where rounding left a trace', () => {
    const positions = new Float32Array(27);
    const density = {
      triangleAPerM2: Float32Array.from([100, 1e-9, 0]),
      conductingM2: Float64Array.from([1e-6, 0, 0]),
    };
    const scalar = thicknessScalar(positions, density, 2e-7, { low: 0, high: 1 }, 5e-6);
    expect([...scalar.values].map((value) => Number(value.toPrecision(6)))).toEqual([2e-5, -1, -1]);
    expect(scalar.limit).toBe(5e-6);
  });
});

describe('markTexts', () => {
  const mil = 25.4e-6;
  const marks = (low: number, high: number) => [0, 1, 2, 3, 4].map((i) => low + ((high - low) * i) / 4);

  it('gives all marks the same decimals, as many as tell them apart', () => {
    expect(markTexts(marks(0.99 * mil, 1.01 * mil), 'mil')).toEqual([
      '0.990',
      '0.995',
      '1.000',
      '1.005',
      '1.010',
    ]);
    expect(markTexts(marks(20e-6, 40e-6), 'µm')).toEqual(['20.0', '25.0', '30.0', '35.0', '40.0']);
    expect(markTexts(marks(25.13e-6, 25.65e-6), 'µm')).toEqual(['25.13', '25.26', '25.39', '25.52', '25.65']);
    // Even to what no map can tell: alike marks stay alike.
    expect(new Set(markTexts(marks(25e-6, 25.001e-6), 'µm')).size).toBe(1);
  });
});

describe('pieceAt', () => {
  it('finds the piece under a point as a look at all of them does', () => {
    const two = [0, 0, 0, 4, 0, 0, 0, 3, 0, 4, 0, 0, 4, 3, 0, 0, 3, 0];
    const split = splitTriangles(two, 0.4, 10_000);
    const map = { positions: Float32Array.from(split.positions), source: split.source };
    for (const [x, y, triangle] of [
      [0.1, 0.1, 0],
      [1.7, 0.9, 0],
      [3.9, 2.9, 1],
      [3, 1.6, 1],
    ] as const) {
      const found = pieceAt(map, triangle, [x, y, 0])!;
      expect(split.source[found]).toBe(triangle);
      const middle = (piece: number, n: number): number =>
        (map.positions[9 * piece + n]! +
          map.positions[9 * piece + 3 + n]! +
          map.positions[9 * piece + 6 + n]!) /
        3;
      const away = (piece: number): number => Math.hypot(middle(piece, 0) - x, middle(piece, 1) - y);
      const nearest = [...split.source.keys()].filter((piece) => split.source[piece] === triangle);
      expect(away(found)).toBe(Math.min(...nearest.map(away)));
    }
    expect(pieceAt(map, 2, [0, 0, 0])).toBeUndefined();
  });
});
