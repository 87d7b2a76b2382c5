import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { deliveredCharge } from '../../../core/run/delivered-charge.ts';
import { readingsFrom, type Reading } from '../../../core/run/readings.ts';
import { seededRandom } from '../../../core/run/seeded-random.ts';

const series = (
  count: number,
  stepS: number,
  voltage: (t: number) => number,
  current: (t: number) => number,
) =>
  readingsFrom(
    Array.from({ length: count }, (_, i) => ({
      tS: i * stepS,
      voltageV: voltage(i * stepS),
      currentA: current(i * stepS),
    })),
    'log',
  );

describe('deliveredCharge', () => {
  it('of the 720 rule: 88 in², 1 mil at 6 A/ft² take 7.333 A·h in 120 min', () => {
    // 720 A·min per ft² and mil, trade journal: 88/144 ft² · 720 A·min = 440 A·min = 7.333 A·h.
    const ampere = (6 * 88) / 144;
    const { chargeC } = deliveredCharge(
      series(
        721,
        10,
        () => 15,
        () => ampere,
      ),
    );
    expect(chargeC / 3600).toBeCloseTo(440 / 60, 10);
  });

  it('of a ramp and hold is the trapezoid’s area, whatever the readings’ spacing', () => {
    const current = (t: number): number => Math.min(4, (4 * t) / 300);
    for (const stepS of [1, 5, 50, 60]) {
      const { chargeC } = deliveredCharge(series(3600 / stepS + 1, stepS, () => 10, current));
      // Closed form: 4·300/2 + 4·3300.
      expect(chargeC).toBeCloseTo(600 + 13_200, 8);
    }
  });

  it('converges with the square of the step on a curve', () => {
    const error = (stepS: number): number => {
      const { chargeC } = deliveredCharge(
        series(
          1000 / stepS + 1,
          stepS,
          () => 1,
          (t) => Math.exp(-t / 300),
        ),
      );
      return Math.abs(chargeC - 300 * (1 - Math.exp(-1000 / 300)));
    };
    // Trapezoid rule: error ∝ h². The next term is below a hundredth at these steps.
    expect(error(20) / error(10)).toBeCloseTo(4, 1);
  });

  it('integrates energy exactly where both are linear in time', () => {
    // ∫₀¹⁰⁰ (10 + 0.05 t)(2 + 0.01 t) dt = 2000 + 1000·… : 20·100 + (0.1 + 0.1)·100²/2 + 0.0005·100³/3
    const { energyJ } = deliveredCharge(
      series(
        3,
        50,
        (t) => 10 + 0.05 * t,
        (t) => 2 + 0.01 * t,
      ),
    );
    expect(energyJ).toBeCloseTo(2000 + 0.2 * 5000 + (0.0005 * 1e6) / 3, 9);
  });

  it('adds nothing for a gap, and bounds it by no current and the highest', () => {
    const list: Reading[] = [0, 10, 20, 320, 330].map((tS) => ({ tS, voltageV: 15, currentA: 4 }));
    const { chargeC, lowChargeC, highChargeC, gaps, gapS } = deliveredCharge(readingsFrom(list, 'supply'), {
      gapAfterS: 60,
      highestCurrentA: 5,
    });
    expect(chargeC).toBe(120);
    expect(lowChargeC).toBe(120);
    expect(highChargeC).toBe(120 + 300 * 5);
    expect(gaps).toEqual([{ fromS: 20, toS: 320 }]);
    expect(gapS).toBe(300);
  });

  it('takes readings typed by hand every ten minutes for what they are', () => {
    const { gaps, chargeC } = deliveredCharge(
      series(
        7,
        600,
        () => 15,
        () => 3,
      ),
    );
    expect(gaps).toEqual([]);
    expect(chargeC).toBe(10_800);
  });

  const positive = fc.array(
    fc.record({
      stepS: fc.double({ min: 0.1, max: 100, noNaN: true }),
      voltageV: fc.double({ min: 0, max: 80, noNaN: true }),
      currentA: fc.double({ min: 0, max: 500, noNaN: true }),
    }),
    { minLength: 2, maxLength: 40 },
  );
  const build = (raw: readonly { stepS: number; voltageV: number; currentA: number }[]) => {
    let tS = 0;
    return readingsFrom(
      raw.map(({ stepS, voltageV, currentA }) => ({ tS: (tS += stepS), voltageV, currentA })),
      'log',
    );
  };

  it('adds up over adjoining intervals', () => {
    fc.assert(
      fc.property(positive, fc.double({ min: 0, max: 1, noNaN: true }), (raw, share) => {
        const readings = build(raw);
        const middle = readings.tS[0]! + share * (readings.tS.at(-1)! - readings.tS[0]!);
        const options = { gapAfterS: 50, highestCurrentA: 600 };
        const whole = deliveredCharge(readings, options);
        const left = deliveredCharge(readings, { ...options, toS: middle });
        const right = deliveredCharge(readings, { ...options, fromS: middle });
        // Rounding of sums of some ten terms up to 5e4 each.
        expect(left.chargeC + right.chargeC).toBeCloseTo(whole.chargeC, 6);
        expect(left.highChargeC + right.highChargeC).toBeCloseTo(whole.highChargeC, 6);
      }),
    );
  });

  it('never falls with time or with current, and its range is in order', () => {
    fc.assert(
      fc.property(positive, (raw) => {
        const readings = build(raw);
        const more = build(raw.map((reading) => ({ ...reading, currentA: reading.currentA + 1 })));
        const options = { gapAfterS: 50 };
        const whole = deliveredCharge(readings, options);
        const part = deliveredCharge(readings, { ...options, toS: readings.tS[readings.tS.length >> 1]! });
        expect(part.chargeC).toBeLessThanOrEqual(whole.chargeC);
        expect(deliveredCharge(more, options).chargeC).toBeGreaterThanOrEqual(whole.chargeC);
        expect(whole.highChargeC).toBeGreaterThanOrEqual(whole.lowChargeC);
      }),
    );
  });
});

describe('where the current stepped between two readings', () => {
  /** Typed: 6 A to 300 s, then what is set at some moment before 600 s, read then and at 900 s. */
  const typed = (toA: number) =>
    readingsFrom(
      [
        { tS: 0, voltageV: 15, currentA: 6 },
        { tS: 300, voltageV: 15, currentA: 6 },
        { tS: 600, voltageV: 12, currentA: toA },
        { tS: 900, voltageV: 12, currentA: toA },
      ],
      'typed',
    );

  it('the range has every moment it can have been set at, the value the middle', () => {
    const random = seededRandom(50_064);
    for (let i = 0; i < 100; i++) {
      const toA = random.between(1, 12);
      if (Math.abs(toA / 6 - 1) < 0.1) continue;
      const setS = random.between(300, 600);
      const { chargeC, lowChargeC, highChargeC, gapChargeC } = deliveredCharge(typed(toA));
      const trueC = 6 * setS + toA * (900 - setS);
      expect(trueC).toBeGreaterThanOrEqual(lowChargeC);
      expect(trueC).toBeLessThanOrEqual(highChargeC);
      expect(chargeC).toBeCloseTo((lowChargeC + highChargeC) / 2, 6);
      expect(highChargeC - lowChargeC).toBeCloseTo(300 * Math.abs(toA - 6), 6);
      expect(gapChargeC).toBe(0);
    }
  });

  it('told at 400 s it counts from there, and may have come later, not sooner', () => {
    const { chargeC, lowChargeC, highChargeC, energyJ } = deliveredCharge(typed(3), { toldS: [400] });
    expect(chargeC).toBeCloseTo(6 * 400 + 3 * 500, 9);
    expect(energyJ).toBeCloseTo(15 * 6 * 400 + 12 * 3 * 500, 6);
    expect(lowChargeC).toBeCloseTo(chargeC, 9);
    expect(highChargeC).toBeCloseTo(6 * 600 + 3 * 300, 9);
    // Parts of it add up.
    const parts = [
      deliveredCharge(typed(3), { toldS: [400], toS: 450 }),
      deliveredCharge(typed(3), { toldS: [400], fromS: 450 }),
    ];
    expect(parts.reduce((sum, part) => sum + part.chargeC, 0)).toBeCloseTo(chargeC, 9);
    expect(parts.reduce((sum, part) => sum + part.highChargeC, 0)).toBeCloseTo(highChargeC, 9);
  });

  it('the planned ramp is no step, nor is noise', () => {
    const ramp = readingsFrom(
      [0, 300, 600, 900].map((tS) => ({ tS, voltageV: 15, currentA: tS === 0 ? 0 : 6 + tS / 1e4 })),
      'typed',
    );
    const planned = deliveredCharge(ramp, { rampS: 290 });
    expect(planned.highChargeC).toBeCloseTo(planned.lowChargeC, 9);
    const unplanned = deliveredCharge(ramp);
    expect(unplanned.highChargeC - unplanned.lowChargeC).toBeCloseTo(300 * 6.03, 9);
    // First read at 900 s: up evenly to 300 s, then held; it may have been at any time.
    const late = deliveredCharge(
      readingsFrom(
        [0, 900].map((tS) => ({ tS, voltageV: 15, currentA: tS === 0 ? 0 : 6 })),
        'typed',
      ),
      { rampS: 300 },
    );
    expect(late.chargeC).toBeCloseTo(6 * (900 - 150), 9);
    expect([late.lowChargeC, late.highChargeC]).toEqual([0, 6 * 900]);
    const random = seededRandom(50_065);
    const noisy = series(
      600,
      5,
      () => 15,
      () => 6 * (1 + 0.02 * random.normal()),
    );
    const { chargeC, lowChargeC, highChargeC } = deliveredCharge(noisy);
    expect((highChargeC - lowChargeC) / chargeC).toBeLessThan(0.003);
  });
});
