import { describe, expect, it } from 'vitest';
import { planRun } from '../../../core/electrical/plan-run.ts';
import { DEFAULT_PROCESS } from '../../../core/job/default-job.ts';
import { wettedHangers } from '../../../core/racking/wetted-hangers.ts';

const wire = {
  name: 'wire',
  material: 'Al 1100',
  diameterM: 0.0024,
  lengthBelowM: 0.3,
  endsBelow: 1,
  count: 4,
} as const;

describe('hangers below the level', () => {
  // Closed form of a cylinder: π · 2.4 · 300 + π · 2.4² / 4 = 2261.947 + 4.524 mm² each.
  it('are cylinders with their free ends', () => {
    const { items, areaM2 } = wettedHangers([wire]);
    expect(items[0]!.areaM2 * 1e6).toBeCloseTo(2266.471, 3);
    expect(areaM2.valueSi * 1e6).toBeCloseTo(9065.882, 3);
    const both = wettedHangers([{ ...wire, endsBelow: 2, diameterM: 0.02, lengthBelowM: 0.05, count: 1 }]);
    // A rod d 20, l 50 alone in the bath: 2π r (l + r).
    expect(both.areaM2.valueSi * 1e6).toBeCloseTo(2 * Math.PI * 10 * 60, 6);
    expect(wettedHangers([{ ...wire, endsBelow: 0 }]).items[0]!.areaM2).toBeCloseTo(
      Math.PI * 0.0024 * 0.3,
      15,
    );
  });

  it('of titanium take no current, nor do those above the level', () => {
    const titanium = { ...wire, name: 'hook', material: 'Ti grade 2' } as const;
    const made = wettedHangers([titanium, { ...wire, lengthBelowM: 0 }, { ...wire, count: 0 }]);
    expect(made.items).toEqual([]);
    expect(made.areaM2.valueSi).toBe(0);
    expect(made.without).toEqual(['hook']);
  });

  it('add their share to the amps of the plan', () => {
    const { items, areaM2 } = wettedHangers([wire]);
    const made = planRun([{ name: 'part', areaM2: 0.02, quantity: 1 }, ...items], DEFAULT_PROCESS);
    if (!made.ok) throw new Error(made.error.message);
    expect(made.value.currentA.valueSi).toBeCloseTo(
      DEFAULT_PROCESS.currentDensityAPerM2 * (0.02 + areaM2.valueSi),
      12,
    );
  });

  it('refuse numbers that are none', () => {
    expect(() => wettedHangers([{ ...wire, diameterM: 0 }])).toThrow(RangeError);
    expect(() => wettedHangers([{ ...wire, lengthBelowM: NaN }])).toThrow(RangeError);
    expect(() => wettedHangers([{ ...wire, count: 1.5 }])).toThrow(RangeError);
  });
});
