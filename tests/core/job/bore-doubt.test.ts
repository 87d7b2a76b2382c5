/** What the film's law leaves open in a hole: the fin formula (Newman and Thomas-Alyea) by hand, λ 30 % shorter and longer. */
import { describe, expect, it } from 'vitest';
import { estimateBore } from '../../../core/field/bore-depth.ts';
import { boreDoubt } from '../../../core/job/bore-doubt.ts';
import type { BoreReading } from '../../../core/job/field-reading.ts';

const at = {
  conductivitySPerM: 58.91,
  filmSlopeVM2PerA: 0.0481,
  filmSource: { standing: 'from memory', text: 'handbooks' } as const,
};
const hole = (row: number, radiusM: number, depthM: number, bare = false): BoreReading => ({
  bore: {
    radiusM,
    depthM,
    through: true,
    rows: [row],
    faceIds: [`f${row}`],
  } as unknown as BoreReading['bore'],
  estimate: estimateBore({ radiusM, depthM, through: true }, at, 0.5),
  heldM: null,
  bare,
});

describe('what a map of a deep hole does not know', () => {
  it('is the range of the quick law about the map’s own thinnest place', () => {
    // λ = √(58.91 · 0.0481 · 0.006 / 2) = 92.2 mm; half of 150 mm: 1/cosh(75/92.2) = 0.741, at 0.7 λ 0.570, at 1.3 λ 0.832.
    const doubt = boreDoubt([hole(2, 0.006, 0.15)], [{ face: 2, leastM: 19.58e-6 }])!;
    expect(doubt.leastM).toBe(19.58e-6);
    expect(doubt.lowM * 1e6).toBeCloseTo((19.58 * 0.57) / 0.741, 1);
    expect(doubt.highM * 1e6).toBeCloseTo((19.58 * 0.832) / 0.741, 1);
  });

  it('is told of the hole where it is most, and of none that is short, masked or not on the map', () => {
    const faces = [1, 2, 3, 4].map((face) => ({ face, leastM: face * 1e-6 }));
    const deep = hole(2, 0.003, 0.15);
    expect(boreDoubt([hole(1, 0.006, 0.15), deep, hole(3, 0.01, 0.01)], faces)!.faceIds).toEqual(['f2']);
    expect(boreDoubt([hole(3, 0.01, 0.01)], faces)).toBeNull();
    expect(boreDoubt([hole(4, 0.003, 0.15, true)], faces)).toBeNull();
    expect(boreDoubt([hole(7, 0.003, 0.15)], faces)).toBeNull();
  });
});
