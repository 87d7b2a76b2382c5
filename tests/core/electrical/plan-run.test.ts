import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { checkProcess } from '../../../core/electrical/check-process.ts';
import { leastChargePerVolumeCPerM3 } from '../../../core/electrical/faraday.ts';
import { packLoads, spreadOverLoads } from '../../../core/electrical/pack-loads.ts';
import { planRun, type RunPlan } from '../../../core/electrical/plan-run.ts';
import { wettedBusEnds } from '../../../core/racking/bus-ends.ts';
import { DEFAULT_PROCESS } from '../../../core/job/default-job.ts';
import type { Process } from '../../../core/job/job.ts';

const ASF = 1 / 0.3048 ** 2;
const MIL = 25.4e-6;
const IN2 = 0.0254 ** 2;

const process = (change: Partial<Process>): Process => ({ ...DEFAULT_PROCESS, rampS: 0, ...change });
const plan = (areaM2: number, change: Partial<Process>, quantity = 1): RunPlan => {
  const made = planRun([{ name: 'part', areaM2, quantity }], process(change));
  if (!made.ok) throw new Error(made.error.message);
  return made.value;
};

describe('the 720 rule', () => {
  // “How to Apply the 720 Rule to Current Density Anodizing”, trade journal: the table printed there.
  it.each([
    [12, 1, 60],
    [18, 1, 40],
    [24, 1, 30],
    [30, 1, 24],
    [40, 1, 18],
    [24, 2, 60],
    [36, 2, 40],
  ])('%d A/ft² to %d mil takes %d min', (asf, mils, minutes) => {
    const made = plan(0.1, { currentDensityAPerM2: asf * ASF, thicknessM: mils * MIL });
    expect(made.totalS.valueSi / 60).toBeCloseTo(minutes, 9);
  });

  // Worked from the rule: 88 in² at 6 A/ft² to 1 mil is 3.667 A for 120 min, 7.333 A·h (also common practice).
  it('gives 3.667 A, 120 min and 7.333 A·h for 88 in², 1 mil, 6 A/ft²', () => {
    const made = plan(88 * IN2, { currentDensityAPerM2: 6 * ASF, thicknessM: MIL });
    expect(made.currentA.valueSi).toBeCloseTo(88 / 24, 9);
    expect(made.totalS.valueSi / 60).toBeCloseTo(120, 9);
    expect(made.chargeC.valueSi / 3600).toBeCloseTo(22 / 3, 9);
  });

  it('grows 0.4916 µm a minute at 1.5 A/dm²: 10 µm in 20.3 min, 25 µm in 50.9 min', () => {
    const minutes = (um: number) =>
      plan(0.1, { currentDensityAPerM2: 150, thicknessM: um * 1e-6 }).totalS.valueSi / 60;
    expect(minutes(10)).toBeCloseTo(20.34, 2);
    expect(minutes(25)).toBeCloseTo(50.85, 2);
  });

  it('takes a constant of the user’s own: 10 µm in 22.2 min with 0.30 µm per A·min/dm²', () => {
    const chargePerVolumeCPerM3 = 2.0e10; // 0.3 µm per A·min/dm² = 2.000 C/cm²/µm, exact
    const made = plan(0.1, { currentDensityAPerM2: 150, thicknessM: 10e-6, chargePerVolumeCPerM3 });
    expect(made.totalS.valueSi / 60).toBeCloseTo(22.22, 2);
    expect(made.holdS.source.standing).toBe('your entry');
  });
});

describe('Faraday’s bound', () => {
  // Atomic weights and F: 100 % efficient growth takes 1.249 … 2.254 C/cm² per µm at 2.2 … 3.97 g/cm³.
  it.each([
    [2200, 1.249],
    [2400, 1.363],
    [2500, 1.42],
    [2600, 1.476],
    [2700, 1.533],
    [2800, 1.59],
    [3000, 1.703],
    [3100, 1.76],
    [3970, 2.254],
  ])('at %d kg/m³ is %d C/cm² per µm', (densityKgPerM3, perCm2Um) => {
    // The printed values are rounded twice; 0.0006 is just over half their last digit.
    expect(Math.abs(leastChargePerVolumeCPerM3(densityKgPerM3) / 1e10 - perCm2Um)).toBeLessThan(0.0006);
  });

  it('puts the 720 rule at 74.4 % efficiency for a film of 2.4 g/cm³', () => {
    expect(leastChargePerVolumeCPerM3(2400) / DEFAULT_PROCESS.chargePerVolumeCPerM3).toBeCloseTo(0.744, 3);
  });

  it('refuses a constant below it', () => {
    const made = planRun([{ name: 'p', areaM2: 1, quantity: 1 }], process({ chargePerVolumeCPerM3: 1.2e10 }));
    expect(made.ok ? '' : made.error.code).toBe('charge-below-faraday');
  });
});

describe('the ramp', () => {
  it('delivers the planned charge exactly: half current over the ramp, full over the hold', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 1e-4, max: 2, noNaN: true }),
        fc.double({ min: 15, max: 500, noNaN: true }),
        fc.double({ min: 2e-6, max: 100e-6, noNaN: true }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        (areaM2, density, thicknessM, share) => {
          const wholeS = (DEFAULT_PROCESS.chargePerVolumeCPerM3 * thicknessM) / density;
          const rampS = Math.min(3600, 2 * wholeS * share * 0.99);
          const made = plan(areaM2, { currentDensityAPerM2: density, thicknessM, rampS });
          const delivered = made.currentA.valueSi * (rampS / 2 + made.holdS.valueSi);
          expect(delivered / made.chargeC.valueSi).toBeCloseTo(1, 9);
          expect(made.totalS.valueSi).toBeCloseTo(rampS + made.holdS.valueSi, 6);
        },
      ),
    );
  });

  it('of five minutes makes 120 min into 122.5', () => {
    const made = plan(88 * IN2, { currentDensityAPerM2: 6 * ASF, thicknessM: MIL, rampS: 300 });
    expect(made.holdS.valueSi / 60).toBeCloseTo(117.5, 9);
    expect(made.totalS.valueSi / 60).toBeCloseTo(122.5, 9);
  });

  it('that alone passes too much charge is a stop at its field', () => {
    const wrong = process({ thicknessM: 1e-6, currentDensityAPerM2: 500, rampS: 600 });
    expect(checkProcess(wrong).find((message) => message.level === 'stop')?.field).toBe('rampS');
    expect(planRun([{ name: 'p', areaM2: 1, quantity: 1 }], wrong).ok).toBe(false);
  });
});

describe('the supply', () => {
  it('offers lower densities and loads when all pieces at once are too much', () => {
    const made = plan(
      88 * IN2,
      { currentDensityAPerM2: 12 * ASF, thicknessM: MIL, supplyCurrentLimitA: 10 },
      3,
    );
    expect(made.currentA.valueSi).toBeCloseTo(22, 9);
    expect(made.loads).toHaveLength(3);
    // 720 A·min/ft² for a mil: of one piece 88/144 ft², a third of what all three take.
    expect(made.loadChargeC.valueSi / 60).toBeCloseTo((720 * 88) / 144, 6);
    expect(made.chargeC.valueSi / made.loadChargeC.valueSi).toBeCloseTo(3, 12);
    expect(made.options.map((option) => option.loads)).toEqual([1, 2, 3]);
    const [all] = made.options;
    expect(all!.currentDensityAPerM2 / ASF).toBeCloseTo((10 / 22) * 12, 9);
    expect(all!.totalPerLoadS / 60).toBeCloseTo(720 / ((10 / 22) * 12), 9);
    for (const option of made.options) expect(option.currentA).toBeLessThanOrEqual(10 * (1 + 1e-9));
  });

  it('that can’t hold one piece says so and gives the density it could', () => {
    const made = plan(1, { supplyCurrentLimitA: 10 });
    expect(made.supplyHolds).toBe(false);
    expect(made.options[0]!.currentDensityAPerM2).toBeCloseTo(10, 9);
  });

  it('where the tank has room for less than the supply holds, the planned row is the plan’s own largest load', () => {
    // By hand: 0.02 + 0.02 + 0.01 m² at 200 A/m² are 4, 4 and 2 A; all at once 10 A, of which the supply gives 6.
    const made = planRun(
      [{ name: 'p', areaM2: 0.01, quantity: 5 }],
      process({ currentDensityAPerM2: 200, supplyCurrentLimitA: 6 }),
      {
        loads: [2, 2, 1].map((count) => ({ pieces: [count], areaM2: 0.01 * count })),
        loadsWithin: () => 3,
      },
    );
    if (!made.ok) throw new Error(made.error.message);
    const { loadCurrentA, options, loadsBySupply } = made.value;
    expect(loadCurrentA.valueSi).toBeCloseTo(4, 9);
    expect(loadsBySupply).toBe(2);
    const asPlanned = options.filter(({ currentDensityAPerM2 }) => currentDensityAPerM2 === 200);
    expect(asPlanned.map(({ loads, currentA }) => [loads, currentA.toFixed(6)])).toEqual([[3, '4.000000']]);
  });

  it('carries the mark of a guessed unit onto every figure that rests on the area', () => {
    const made = planRun(
      [{ name: 'p', areaM2: 1, quantity: 1, unconfirmed: 'unit not confirmed' }],
      process({}),
    );
    if (!made.ok) throw new Error(made.error.message);
    const { areaM2, currentA, loadCurrentA, chargeC, loadCount, holdS } = made.value;
    for (const figure of [areaM2, currentA, loadCurrentA, chargeC, loadCount]) {
      expect(figure.unconfirmed).toBe('unit not confirmed');
    }
    expect(holdS.unconfirmed).toBeUndefined();
  });

  it('has nothing to plan without area', () => {
    const made = planRun([{ name: 'p', areaM2: 0, quantity: 5 }], process({}));
    expect(made.ok ? '' : made.error.code).toBe('no-area');
  });
});

describe('the range of the area', () => {
  const ranged = (low: number, high: number, quantity = 1) => ({
    name: 'p',
    areaM2: 0.1,
    areaLowM2: 0.1 * low,
    areaHighM2: 0.1 * high,
    quantity,
  });
  const planned = (items: Parameters<typeof planRun>[0], change: Partial<Process> = {}): RunPlan => {
    const made = planRun(items, process({ thicknessM: MIL, ...change }));
    if (!made.ok) throw new Error(made.error.message);
    return made.value;
  };

  // Faraday: at a fixed charge thickness times area is fixed, so 3 % either way is 1/1.03 to 1/0.97 mil.
  it('of ±3 % is 0.97 to 1.03 mil at a fixed current, and ±3 % of amps and charge', () => {
    const made = planned([ranged(0.97, 1.03, 2)]);
    expect((made.thicknessM.lowSi! / MIL).toFixed(2)).toBe('0.97');
    expect((made.thicknessM.highSi! / MIL).toFixed(2)).toBe('1.03');
    expect(made.thicknessM.lowSi! / MIL).toBeCloseTo(1 / 1.03, 12);
    for (const figure of [made.areaM2, made.currentA, made.loadCurrentA, made.chargeC]) {
      expect(figure.lowSi! / figure.valueSi).toBeCloseTo(0.97, 12);
      expect(figure.highSi! / figure.valueSi).toBeCloseTo(1.03, 12);
    }
    expect(made.holdS.lowSi).toBeUndefined();
  });

  it('keeps thickness times true area times the charge constant equal to the charge passed', () => {
    const made = planned([ranged(0.9, 1.2, 3), { name: 'exact', areaM2: 0.02, quantity: 1 }]);
    const k = DEFAULT_PROCESS.chargePerVolumeCPerM3;
    expect((k * made.thicknessM.highSi! * made.areaM2.lowSi!) / made.chargeC.valueSi).toBeCloseTo(1, 12);
    expect((k * made.thicknessM.lowSi! * made.areaM2.highSi!) / made.chargeC.valueSi).toBeCloseTo(1, 12);
  });

  it('is the widest of the loads', () => {
    const exact = { name: 'exact', areaM2: 0.1, quantity: 1 };
    const made = planned([ranged(0.8, 1.25), exact], {
      supplyCurrentLimitA: 0.1 * DEFAULT_PROCESS.currentDensityAPerM2,
    });
    expect(made.loads).toHaveLength(2);
    expect(made.thicknessM.highSi! / MIL).toBeCloseTo(1.25, 12);
    expect(made.thicknessM.lowSi! / MIL).toBeCloseTo(0.8, 12);
  });

  it('is left out where no item has one, and refuses a range that does not hold its own area', () => {
    const made = plan(0.1, {});
    for (const figure of [made.areaM2, made.currentA, made.chargeC, made.thicknessM]) {
      expect(figure.lowSi).toBeUndefined();
      expect(figure.highSi).toBeUndefined();
    }
    expect(() => planRun([ranged(1.01, 1.03)], process({}))).toThrow(RangeError);
    expect(() => planRun([ranged(0.9, 0.95)], process({}))).toThrow(RangeError);
  });
});

/** Fewest loads by trying every split; only for a handful of pieces. */
function fewestLoads(areas: readonly number[], capacity: number): number {
  let best = areas.length;
  const place = (index: number, loads: number[]): void => {
    if (loads.length >= best) return;
    if (index === areas.length) {
      best = loads.length;
      return;
    }
    loads.forEach((load, at) => {
      if (load + areas[index]! <= capacity) {
        loads[at] = load + areas[index]!;
        place(index + 1, loads);
        loads[at] = load;
      }
    });
    place(index + 1, [...loads, areas[index]!]);
  };
  place(0, []);
  return best;
}

describe('packing loads', () => {
  const items = fc.array(
    fc.record({
      areaM2: fc.double({ min: 0.01, max: 1, noNaN: true }),
      quantity: fc.integer({ min: 1, max: 4 }),
    }),
    { minLength: 1, maxLength: 3 },
  );

  it('hangs every piece once, never above the limit, within one load of the best split', () => {
    fc.assert(
      fc.property(items, fc.double({ min: 1, max: 2, noNaN: true }), (parts, capacityM2) => {
        const packing = packLoads(parts, capacityM2);
        if (!packing) throw new Error('a piece of at most 1 m² fits in any load here');
        parts.forEach((part, index) => {
          const hung = packing.loads.reduce((sum, load) => sum + load.pieces[index]!, 0);
          expect(hung).toBe(part.quantity);
        });
        for (const load of packing.loads) expect(load.areaM2).toBeLessThanOrEqual(capacityM2 * (1 + 1e-9));
        const areas = parts.flatMap((part) => new Array<number>(part.quantity).fill(part.areaM2));
        const best = fewestLoads(
          areas.sort((a, b) => b - a),
          capacityM2,
        );
        expect(packing.loads.length).toBeLessThanOrEqual(best + 1);
        expect(packing.fewestPossible).toBeLessThanOrEqual(best);
      }),
      { numRuns: 60 },
    );
  });

  it('splits equal pieces evenly', () => {
    const packing = packLoads([{ areaM2: 1, quantity: 10 }], 4);
    expect(packing?.loads.map((load) => load.pieces[0])).toEqual([4, 3, 3]);
    expect(spreadOverLoads([{ areaM2: 1, quantity: 2 }], 5)).toHaveLength(2);
  });

  it('has no packing for a piece above the limit', () => {
    expect(packLoads([{ areaM2: 3, quantity: 1 }], 2)).toBeUndefined();
  });
});

describe('bus ends in the bath', () => {
  // Flat 20 × 3 mm, 50 mm deep: 2 · 23 · 50 + 60 = 2360 mm²; round ⌀ 10, 40 deep: 400π + 25π = 1335.2 mm²; by hand.
  const flat = {
    material: 'Al 6061',
    widthM: 0.02,
    thicknessM: 0.003,
    lengthBelowM: 0.05,
    count: 2,
  } as const;
  const round = {
    material: 'Al 1100',
    widthM: 0.01,
    thicknessM: null,
    lengthBelowM: 0.04,
    count: 1,
  } as const;
  const busM2 = (2 * 2360 + 425 * Math.PI) * 1e-6;
  const busEnds = wettedBusEnds([flat, round, { ...flat, material: 'Ti grade 2', count: 9 }]);
  const items = [{ name: 'part', areaM2: 0.02, areaLowM2: 0.019, areaHighM2: 0.021, quantity: 6 }];
  const planned = (change: Partial<Process>): RunPlan => {
    const made = planRun(items, process({ currentDensityAPerM2: 100, ...change }), { busEnds });
    if (!made.ok) throw new Error(made.error.message);
    return made.value;
  };

  it('count once in every load, titanium not at all, and the range carries only the pieces’', () => {
    expect(busEnds.areaM2).toBeCloseTo(busM2, 12);
    const one = planned({});
    expect(one.loads.map(({ areaM2 }) => areaM2)).toEqual([expect.closeTo(0.12 + busM2, 12)]);
    expect(one.areaM2.lowSi).toBeCloseTo(6 * 0.019 + busM2, 12);
    expect(one.loadCurrentA.valueSi).toBeCloseTo(100 * (0.12 + busM2), 9);
    // The charge is fixed: thicker by the area there might be less of.
    expect(one.thicknessM.highSi! / one.thicknessM.valueSi).toBeCloseTo(
      (0.12 + busM2) / (6 * 0.019 + busM2),
      9,
    );
  });

  it('leave less of the supply for the pieces', () => {
    // 6.1 A hold 0.061 m²: three pieces alone, with the bus ends two.
    const loads = (amps: number): number[] =>
      planned({ supplyCurrentLimitA: amps }).loads.map(({ pieces }) => pieces[0]!);
    expect(planRun(items, process({ currentDensityAPerM2: 100, supplyCurrentLimitA: 6.1 }))).toMatchObject({
      value: { loads: [{ pieces: [3] }, { pieces: [3] }] },
    });
    expect(loads(6.1)).toEqual([2, 2, 2]);
    const three = planned({ supplyCurrentLimitA: 6.1 });
    expect(three.areaM2.valueSi).toBeCloseTo(0.12 + 3 * busM2, 12);
    expect(Math.max(...three.loads.map(({ currentA }) => currentA))).toBeLessThanOrEqual(6.1);
    // Nothing is left for a piece.
    expect(planned({ supplyCurrentLimitA: 0.5 }).supplyHolds).toBe(false);
  });
});
