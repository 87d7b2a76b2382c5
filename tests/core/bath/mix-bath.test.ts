import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { acidStrength, type AcidStatement } from '../../../core/bath/acid-strength.ts';
import { mixBath } from '../../../core/bath/mix-bath.ts';
import { mixParts } from '../../../core/bath/mix-parts.ts';
import { mixLiquids } from '../../../core/bath/mixing-heat.ts';
import { mixingSteps } from '../../../core/bath/mixing-steps.ts';
import { takenStrength } from '../../../core/bath/taken-strength.ts';
import { topUp } from '../../../core/bath/top-up.ts';
import { valueOf } from '../value-of.ts';

const percent = (p: number): AcidStatement => ({ as: 'massFraction', massFraction: p / 100 });
const gPerL = (g: number): AcidStatement => ({ as: 'concentration', acidKgPerM3: g });
const gravity = (g: number): AcidStatement => ({ as: 'specificGravity', specificGravity: g });

describe('strength of an acid', () => {
  it.each([
    [1.265, 20, 35.28, 445.5],
    [1.265, 25, 35.45, 447.1],
    [1.275, 20, 36.46, 464.0],
    [1.275, 25, 36.62, 465.6],
    [1.28, 20, 37.05, 473.3],
    [1.28, 25, 37.21, 474.8],
    [1.285, 20, 37.63, 482.7],
    [1.285, 25, 37.79, 484.1],
  ])('battery acid %d at %d °C is %d %%, %d g/L (Myhre 1998, inverted)', (sg, t, wt, grams) => {
    const acid = valueOf(acidStrength(gravity(sg), t + 273.15));
    // 0.0005 g/cm³ at 20 °C is 0.06 %; at 25 °C the two density sources differ by 0.0013, which is 0.15 %.
    const tolerance = t === 20 ? 0.06 : 0.16;
    expect(Math.abs(acid.massFraction * 100 - wt)).toBeLessThan(tolerance);
    expect(Math.abs(acid.acidKgPerM3 - grams)).toBeLessThan(tolerance * 14);
  });

  it('refuses density above 96 % and nonsense', () => {
    expect(acidStrength({ as: 'density', densityKgPerM3: 1840 }, 293.15)).toMatchObject({
      ok: false,
      error: { code: 'density-not-unique' },
    });
    expect(acidStrength(percent(120), 293.15)).toMatchObject({
      ok: false,
      error: { code: 'strength-out-of-range' },
    });
    expect(acidStrength(gPerL(2000), 293.15)).toMatchObject({ ok: false, error: { code: 'outside-table' } });
  });
});

describe('mixing a bath', () => {
  it.each([
    [96, 102.2, 923.3],
    [98, 100.0, undefined],
    [93, 105.9, undefined],
  ])('180 g/L from %d %% takes %d mL a litre (mass balance on the 20 °C densities)', (wt, mL, waterG) => {
    const mix = valueOf(mixBath({ acid: percent(wt), target: gPerL(180), volumeM3: 1e-3 }));
    expect(mix.acidVolume.valueSi * 1e6).toBeCloseTo(mL, 0);
    if (waterG !== undefined) expect(Math.abs(mix.waterMass.valueSi * 1000 - waterG)).toBeLessThan(0.5);
    expect(mix.finalConcentration.valueSi).toBeCloseTo(180, 6);
  });

  it.each([
    [165, 1.887],
    [180, 1.647],
    [200, 1.382],
  ])('%d g/L takes %d parts of water to one of battery acid 1.280', (grams, parts) => {
    const mix = valueOf(mixBath({ acid: gravity(1.28), target: gPerL(grams), volumeM3: 0.01 }));
    // 0.0005 g/cm³ in the acid's density moves the ratio by 0.005.
    expect(Math.abs(mix.waterVolume.valueSi / mix.acidVolume.valueSi - parts)).toBeLessThan(0.008);
  });

  it('closes the balance of mass and acid for any acid, target and volume', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 30, max: 98, noNaN: true }),
        fc.double({ min: 50, max: 300, noNaN: true }),
        fc.double({ min: 1e-3, max: 1, noNaN: true }),
        (wt, grams, volumeM3) => {
          const mix = valueOf(mixBath({ acid: percent(wt), target: gPerL(grams), volumeM3, limitK: 400 }));
          const total = mix.acidMass.valueSi + mix.waterMass.valueSi;
          const pure = mix.acidMass.valueSi * (wt / 100);
          expect(pure / volumeM3).toBeCloseTo(grams, 6);
          expect(pure / total).toBeCloseTo(mix.finalStrength.valueSi, 10);
          // Poured volumes exceed the finished one: the mix shrinks.
          expect(mix.acidVolume.valueSi + mix.waterVolume.valueSi).toBeGreaterThan(volumeM3);
        },
      ),
      { numRuns: 60 },
    );
  });

  it.each([
    ['96 % acid to 180 g/L', percent(96), 114, 119, 28, 29],
    ['98 % acid to 180 g/L', percent(98), 120, 126, 29, 31],
    ['battery acid to 180 g/L', gravity(1.28), 11, 14, 2.8, 3.5],
  ])(
    'heat of mixing %s: %d-%d kJ/L (textbook rows and Thomsen’s equation)',
    (_, acid, kJLow, kJHigh, kLow, kHigh) => {
      const mix = valueOf(mixBath({ acid, target: gPerL(180), volumeM3: 1e-3, limitK: 350 }));
      // ±6 %: the two published descriptions of the heat differ by that much.
      expect(mix.heat.valueSi / 1000).toBeGreaterThan(kJLow * 0.94);
      expect(mix.heat.valueSi / 1000).toBeLessThan(kJHigh * 1.06);
      expect(mix.rise.valueSi).toBeGreaterThan(kLow * 0.94);
      expect(mix.rise.valueSi).toBeLessThan(kHigh * 1.06);
      expect(mix.temperature.valueSi).toBeCloseTo(293.15 + mix.rise.valueSi, 9);
    },
  );

  it('splits a pour that gets too hot, each step under the limit and no step too many', () => {
    const request = { acid: percent(96), target: gPerL(180), volumeM3: 0.02, startK: 303.15, limitK: 318.15 };
    const mix = valueOf(mixBath(request));
    expect(mix.steps.length).toBeGreaterThan(1);
    expect(mix.steps.every((step) => step.temperatureK <= 318.15)).toBe(true);
    expect(mix.steps.reduce((sum, step) => sum + step.acidKg, 0)).toBeCloseTo(mix.acidMass.valueSi, 9);
    const fewer = mix.acidMass.valueSi / (mix.steps.length - 1);
    const first = valueOf(
      mixLiquids([
        { massKg: mix.waterMass.valueSi, massFraction: 0, temperatureK: 303.15 },
        { massKg: fewer, massFraction: 0.96, temperatureK: 303.15 },
      ]),
    );
    expect(first.temperatureK).toBeGreaterThan(318.15);
  });

  it('refuses what can not be mixed', () => {
    expect(mixBath({ acid: percent(10), target: gPerL(180), volumeM3: 0.01 })).toMatchObject({
      ok: false,
      error: { code: 'acid-too-weak' },
    });
    expect(mixBath({ acid: percent(96), target: gPerL(180), volumeM3: 0 })).toMatchObject({
      ok: false,
      error: { code: 'no-volume' },
    });
    expect(mixingSteps({ massKg: 1, massFraction: 0.96 }, 5, 330, 323.15)).toMatchObject({
      ok: false,
      error: { code: 'mixing-too-hot' },
    });
  });
});

describe('heat of mixing', () => {
  it('does not depend on the way: twice diluted gives the heat of once', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.5, max: 0.98, noNaN: true }),
        fc.double({ min: 0.5, max: 20, noNaN: true }),
        fc.double({ min: 0.1, max: 0.9, noNaN: true }),
        (massFraction, waterKg, share) => {
          const acid = { massKg: 1, massFraction, temperatureK: 293.15 };
          const water = (massKg: number) => ({ massKg, massFraction: 0, temperatureK: 293.15 });
          const once = valueOf(mixLiquids([acid, water(waterKg)]));
          const half = valueOf(mixLiquids([acid, water(waterKg * share)]));
          const rest = valueOf(mixLiquids([{ ...half, temperatureK: 293.15 }, water(waterKg * (1 - share))]));
          // Hess's law; only rounding of sums around 1 MJ.
          expect(half.heatJ + rest.heatJ).toBeCloseTo(once.heatJ, 3);
        },
      ),
      { numRuns: 60 },
    );
  });

  it('warm and cold water meet at the mean (Richmann)', () => {
    const mixed = valueOf(
      mixLiquids([
        { massKg: 1, massFraction: 0, temperatureK: 280 },
        { massKg: 3, massFraction: 0, temperatureK: 320 },
      ]),
    );
    expect(mixed.temperatureK).toBeCloseTo(310, 9);
    expect(() => mixLiquids([])).toThrow(RangeError);
  });
});

describe('a recipe in parts by volume', () => {
  it.each([
    [1.28, 3, 11.08, 118.95, 3.979 / 4],
    [1.265, 3, 10.46, 111.9, 3.982 / 4],
    [1.28, 1, 20.8, 238.3, 1.987 / 2],
  ])('1 part of battery acid %d with %d of water: %d %%, %d g/L', (sg, water, wt, grams, ratio) => {
    const mix = valueOf(mixParts(gravity(sg), 1, water));
    // 0.06 % on the acid's own strength, diluted.
    expect(Math.abs(mix.finalStrength.valueSi * 100 - wt)).toBeLessThan(0.05);
    expect(Math.abs(mix.finalConcentration.valueSi - grams)).toBeLessThan(0.6);
    // 0.0005 g/cm³ in each density.
    expect(Math.abs(mix.volumeRatio.valueSi - ratio)).toBeLessThan(0.0007);
  });

  it('one to three warms by 2.0 to 2.7 K (textbook rows, Thomsen)', () => {
    const mix = valueOf(mixParts(percent(37), 1, 3));
    expect(mix.rise.valueSi).toBeGreaterThan(2.0 * 0.94);
    expect(mix.rise.valueSi).toBeLessThan(2.7 * 1.06);
  });

  it('is the mix the other way round: its own strength as target needs the same litres', () => {
    const parts = valueOf(mixParts(percent(35), 1, 2, 0.012));
    const mix = valueOf(
      mixBath({ acid: percent(35), target: gPerL(parts.finalConcentration.valueSi), volumeM3: 0.012 }),
    );
    for (const key of ['acidVolume', 'acidMass', 'waterVolume', 'waterMass', 'rise', 'heat'] as const) {
      expect(parts[key].valueSi / mix[key].valueSi).toBeCloseTo(1, 6);
    }
    expect(parts.waterVolume.valueSi / parts.acidVolume.valueSi).toBeCloseTo(2, 9);
    expect(valueOf(mixParts(percent(35), 1, 2)).acidVolume.valueSi).toBeCloseTo(1e-3, 12);
  });

  it('refuses no parts and no acid', () => {
    expect(mixParts(gravity(1.28), 0, 3)).toMatchObject({ ok: false, error: { code: 'no-parts' } });
    expect(mixParts(percent(0), 1, 3)).toMatchObject({ ok: false, error: { code: 'no-acid' } });
  });
});

describe('topping up and diluting', () => {
  const acidKgPerL = (statement: AcidStatement, volumeM3: number) => {
    const acid = valueOf(acidStrength(statement, 293.15));
    return { mass: acid.densityKgPerM3 * volumeM3, acid: acid.acidKgPerM3 * volumeM3 };
  };

  it('halving the strength doubles the volume within the contraction (c₁V₁ = c₂V₂)', () => {
    const result = valueOf(
      topUp({
        volumeM3: 0.01,
        bath: gPerL(200),
        wantedVolumeM3: 0.02,
        wanted: gPerL(100),
        acid: percent(96),
      }),
    );
    expect(result.drawOff.valueSi).toBeCloseTo(0, 9);
    expect(result.acidMass.valueSi).toBeCloseTo(0, 6);
    // Volumes do not add: 10 L of 200 g/L and water to 20 L shrinks by less than 0.5 %.
    expect(result.waterVolume.valueSi * 1000).toBeGreaterThan(10);
    expect(result.waterVolume.valueSi * 1000).toBeLessThan(10.1);
  });

  it('closes both balances whatever is asked, never with a negative amount', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 5, max: 50, noNaN: true }),
        fc.double({ min: 60, max: 300, noNaN: true }),
        fc.double({ min: 5, max: 80, noNaN: true }),
        fc.double({ min: 60, max: 300, noNaN: true }),
        (litres, now, wantedLitres, wanted) => {
          const result = valueOf(
            topUp({
              volumeM3: litres / 1000,
              bath: gPerL(now),
              wantedVolumeM3: wantedLitres / 1000,
              wanted: gPerL(wanted),
              acid: percent(80),
            }),
          );
          const kept = acidKgPerL(gPerL(now), litres / 1000 - result.drawOff.valueSi);
          const end = acidKgPerL(gPerL(wanted), wantedLitres / 1000);
          const { acidMass, waterMass, drawOff } = result;
          expect(Math.min(acidMass.valueSi, waterMass.valueSi, drawOff.valueSi)).toBeGreaterThanOrEqual(0);
          expect(kept.mass + acidMass.valueSi + waterMass.valueSi).toBeCloseTo(end.mass, 7);
          expect(kept.acid + acidMass.valueSi * 0.8).toBeCloseTo(end.acid, 7);
          expect(result.finalConcentration.valueSi).toBeCloseTo(wanted, 6);
          expect(result.pureAcidKg).toBeCloseTo(acidMass.valueSi * 0.8, 9);
          // The least drawn off: something is drawn off only when one of the two additions is nothing.
          if (drawOff.valueSi > 1e-9)
            expect(Math.min(acidMass.valueSi, waterMass.valueSi)).toBeLessThan(1e-7);
        },
      ),
      { numRuns: 80 },
    );
  });

  it('refuses an acid that can not strengthen the bath', () => {
    expect(
      topUp({ volumeM3: 0.01, bath: gPerL(150), wantedVolumeM3: 0.01, wanted: gPerL(180), acid: gPerL(170) }),
    ).toMatchObject({ ok: false, error: { code: 'acid-too-weak' } });
  });
});

describe('a strength that was mixed or measured', () => {
  it('goes into the plan as it is, to a tenth of a gram per litre', () => {
    expect(valueOf(takenStrength(166.736))).toBe(166.7);
    expect(valueOf(takenStrength(49.96))).toBe(50);
  });

  it.each([0, 20, 49.9, 400.1, 900])(
    '%d g/L is refused, not moved to the nearest that would do',
    (kgPerM3) => {
      expect(takenStrength(kgPerM3)).toMatchObject({ ok: false, error: { code: 'not-a-bath' } });
    },
  );
});
