import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { HangerMaterial } from '../../../core/job/job-hanging.ts';
import { checkHanger, suffices, USUAL_DUTY, type HangerSet } from '../../../core/racking/check-hanger.ts';
import { contactLoad, contactResistance, spotRadiusM } from '../../../core/racking/contact-physics.ts';
import { HANGER_METALS, resistivityAt } from '../../../core/racking/hanger-materials.ts';
import {
  airAt,
  churchillChuCylinder,
  currentForRiseA,
  heatLossWPerM,
  riseForCurrentK,
  waterAt,
} from '../../../core/racking/wire-heat.ts';

describe('Churchill-Chu', () => {
  // Heat-transfer library documentation, Churchill-Chu examples: Pr 0.69, Gr 2.63e9 -> 139.135; Pr 0.70, Gr 1e5 -> 7.07684.
  test.each([
    [0.69, 2.63e9, 139.135],
    [0.7, 1e5, 7.07684],
  ])('Pr %d, Gr %d', (prandtl, grashof, nusselt) => {
    // To the digits printed.
    expect(churchillChuCylinder(prandtl * grashof, prandtl) / nusselt).toBeCloseTo(1, 5);
  });

  test('Incropera & DeWitt, Example 9.4 (from memory): bare steam pipe 0.1 m at 165 °C in a room at 23 °C', () => {
    // Printed: Ra = 5.073e6, Nu = 23.3, k = 0.0313, so h = 7.29 W/m2K; convection 325 W/m + radiation 441 W/m at e = 0.85.
    // The book rounds on its way: its own numbers put into its own formula give 23.1.
    expect(Math.abs(churchillChuCylinder(5.073e6, 0.697) / 23.3 - 1)).toBeLessThan(0.015);
    // The book reads air from a table at 370 K; Sutherland's formulas differ by about 1 %.
    expect(Math.abs(heatLossWPerM(0.1, 438, 296, 'air', 0.85) / 766 - 1)).toBeLessThan(0.02);
    expect(Math.abs(heatLossWPerM(0.1, 438, 296, 'air', 0) / 325 - 1)).toBeLessThan(0.02);
  });

  test('IEEE 738 (from memory): a conductor of 28.1 mm at 100 °C in still air at 40 °C gives off 42.4 W/m', () => {
    // Another correlation for the same thing; two such agree within 15 %.
    const loss = heatLossWPerM(0.0281, 373, 313, 'air', 0);
    expect(loss / 42.4).toBeGreaterThan(0.85);
    expect(loss / 42.4).toBeLessThan(1.15);
  });

  test('air and water against handbook tables', () => {
    // Incropera Table A.4 at 300 K (from memory): 15.89e-6, 0.0263, 0.707; 350 K: 20.92e-6, 0.0300, 0.700. Rounded to 3 digits there.
    const [a, b] = [airAt(300), airAt(350)];
    expect(Math.abs(a.kinematicViscosityM2PerS / 15.89e-6 - 1)).toBeLessThan(0.02);
    expect(Math.abs(a.conductivityWPerMK / 0.0263 - 1)).toBeLessThan(0.02);
    expect(Math.abs(a.prandtl / 0.707 - 1)).toBeLessThan(0.02);
    expect(Math.abs(b.kinematicViscosityM2PerS / 20.92e-6 - 1)).toBeLessThan(0.02);
    expect(Math.abs(b.conductivityWPerMK / 0.03 - 1)).toBeLessThan(0.02);
    // IAPWS at 25 °C: 0.893e-6 m2/s, 0.607 W/m/K, Pr 6.14, 257e-6 /K; linear between rows ten kelvin apart, 2 %.
    const w = waterAt(298.15);
    expect(Math.abs(w.kinematicViscosityM2PerS / 0.893e-6 - 1)).toBeLessThan(0.03);
    expect(Math.abs(w.conductivityWPerMK / 0.607 - 1)).toBeLessThan(0.02);
    expect(Math.abs(w.prandtl / 6.14 - 1)).toBeLessThan(0.03);
    expect(Math.abs(w.expansionPerK / 257e-6 - 1)).toBeLessThan(0.05);
    expect(() => waterAt(390)).toThrow(RangeError);
  });
});

describe('wire in still air at 20 °C', () => {
  // Common practice of free convection (Churchill and Chu), worked by hand: I for +20 / +40 / +80 K, ±20 %, from the same balance with resistivity at 20 °C.
  test.each([
    ['Al 1100', 1.6e-3, [11, 16, 22]],
    ['Al 1100', 2e-3, [14.5, 21, 30]],
    ['Al 1100', 3.2e-3, [26, 38, 54]],
    ['Al 5356', 1.6e-3, [7.8, 11, 16]],
    ['Al 5356', 3.2e-3, [18, 27, 39]],
    ['Ti grade 2', 1.6e-3, [2.5, 3.6, 5.2]],
    ['Ti grade 2', 3.2e-3, [6, 8.7, 12]],
  ] as [HangerMaterial, number, number[]][])('%s %d m', (material, diameter, currents) => {
    [20, 40, 80].forEach((rise, i) => {
      const current = currentForRiseA(HANGER_METALS[material], diameter, rise, 293.15, 'air');
      expect(current / currents[i]).toBeGreaterThan(0.8);
      expect(current / currents[i]).toBeLessThan(1.2);
    });
  });

  test('rise and current undo each other, and the bath cools far better than air', () => {
    const metal = HANGER_METALS['Al 1100'];
    for (const surroundings of ['air', 'bath'] as const) {
      const current = currentForRiseA(metal, 2e-3, 15, 293.15, surroundings);
      expect(riseForCurrentK(metal, 2e-3, current, 293.15, surroundings)).toBeCloseTo(15, 4);
    }
    expect(currentForRiseA(metal, 2e-3, 15, 293.15, 'bath')).toBeGreaterThan(
      4 * currentForRiseA(metal, 2e-3, 15, 293.15, 'air'),
    );
    expect(riseForCurrentK(metal, 1e-3, 1000, 293.15, 'air')).toBeUndefined();
    // A hard-coat bath near freezing still has an answer.
    expect(riseForCurrentK(metal, 2e-3, 20, 274, 'bath')).toBeGreaterThan(0);
  });
});

test('resistivities: ratios published', () => {
  // Titanium grade 2 over 1100: 19.2 times; 6061-T6 4.010 and 5356 5.945 µOhm.cm (open % IACS tables).
  expect(HANGER_METALS['Ti grade 2'].resistivityOhmM / HANGER_METALS['Al 1100'].resistivityOhmM).toBeCloseTo(
    19.2,
    1,
  );
  expect(HANGER_METALS['Al 6061'].resistivityOhmM).toBeCloseTo(4.01e-8, 10);
  expect(HANGER_METALS['Al 5356'].resistivityOhmM).toBeCloseTo(5.945e-8, 10);
  expect(HANGER_METALS['Al 1100'].resistivityOhmM).toBeCloseTo(2.922e-8, 10);
});

describe('contacts, after Holm', () => {
  const pair = (a: number, b: number) => ({
    resistivityAOhmM: a,
    resistivityBOhmM: b,
    hardnessPa: 400e6,
    forceN: 10,
  });

  test('10 N at 400 MPa: 0.0892 mm; 0.164 mOhm for 1100 on 1100, 1.68 for titanium on 6061; 306 and 29.7 A at 50 mV', () => {
    expect(spotRadiusM({ forceN: 10, hardnessPa: 400e6 })).toBeCloseTo(0.0892e-3, 7);
    const al = contactResistance(pair(2.922e-8, 2.922e-8)).valueSi;
    const ti = contactResistance(pair(56e-8, 4.01e-8)).valueSi;
    expect(al * 1e3).toBeCloseTo(0.164, 3);
    expect(ti * 1e3).toBeCloseTo(1.68, 2);
    expect(0.05 / al).toBeCloseTo(306, -0.5);
    expect(0.05 / ti).toBeCloseTo(29.7, 0);
  });

  // From 20 °C: 100 °C at 0.072 V, 150 °C at 0.095 V, 660 °C at 0.277 V (L = 2.44e-8; Holm's tables 0.1 and 0.3 V).
  test.each([
    [0.072, 100],
    [0.095, 150],
    [0.277, 660],
  ])('%d V heats the spot to %d °C', (volts, celsius) => {
    const p = pair(2.922e-8, 2.922e-8);
    const load = contactLoad(p, volts / contactResistance(p).valueSi, 293.15);
    // The printed volts have two or three digits: 1 mV is 2-3 K.
    expect(Math.abs(load.hottestK.valueSi - 273.15 - celsius)).toBeLessThan(2.5);
    expect(load.dropV.valueSi).toBeCloseTo(volts, 12);
  });

  test('verdicts, and the force that would do', () => {
    const p = pair(56e-8, 4.01e-8);
    expect([20, 40, 70, 200].map((current) => contactLoad(p, current, 293.15).verdict)).toEqual([
      'good',
      'warm',
      'softens',
      'melts',
    ]);
    const force = contactLoad(p, 70, 293.15).wantedForceN.valueSi;
    expect(contactLoad({ ...p, forceN: force }, 70, 293.15).dropV.valueSi).toBeCloseTo(0.05, 12);
  });
});

describe('hangers', () => {
  const duty = { currentA: 4, weightN: 1.5, airK: 293.15, bathK: 293.15, ...USUAL_DUTY };
  const set: HangerSet = {
    material: 'Al 1100',
    diameterM: 2e-3,
    count: 1,
    dryLengthM: 0.15,
    wetLengthM: 0.1,
    hookLengthM: 0,
    armM: 5e-3,
  };

  test('a part of 4 A on one 2 mm wire of 1100 is fine; it hangs once', () => {
    const check = checkHanger(set, duty);
    expect(check.fixes).toEqual([]);
    expect(check.findings.map((f) => f.level)).not.toContain('stop');
    expect(check.reuse).toBe('once');
    // By hand: pi d L = 6.283e-4 m2; V = I rho L / A = 4 x 2.92e-8 x 0.25 / 3.1416e-6 = 9.3 mV (2.3 K warmer: 1 %).
    expect(check.wetAreaM2.valueSi).toBeCloseTo(Math.PI * 2e-3 * 0.1, 12);
    expect(check.dropV.valueSi).toBeCloseTo(9.3e-3, 3);
    // Metal Finishing Guidebook: 600 A per square inch.
    expect(check.guideA.valueSi).toBeCloseTo((600 * Math.PI * 4) / 4 / 645.16, 6);
  });

  test('a bent end of 40 mm adds its surface and its resistance, by hand', () => {
    const straight = checkHanger(set, duty);
    const hooked = checkHanger({ ...set, hookLengthM: 0.04 }, duty);
    expect(hooked.wetAreaM2.valueSi - straight.wetAreaM2.valueSi).toBeCloseTo(
      set.count * Math.PI * set.diameterM * 0.04,
      12,
    );
    // Ohm: ρ·l over the cross-section, at the bath's heat; the wire warms by under 1 K there, 0.4 % of ρ.
    const rho = resistivityAt(HANGER_METALS[set.material], duty.bathK);
    const more = (duty.currentA * rho * 0.04) / ((set.count * Math.PI * set.diameterM ** 2) / 4);
    expect((hooked.dropV.valueSi - straight.dropV.valueSi) / more).toBeCloseTo(1, 1);
  });

  test('bending by hand: 10 N on a hook that reaches 20 mm, 3 mm wire', () => {
    const check = checkHanger({ ...set, diameterM: 3e-3, armM: 0.02 }, { ...duty, weightN: 10 });
    // M = 0.2 Nm; 32 M/(pi d3) = 75.45 MPa; pull 10/7.069e-6 = 1.415 MPa; sag = W a3/(3 E I), I = 3.976e-12.
    expect(check.bending!.stressPa / 1e6).toBeCloseTo(75.45 + 1.415, 1);
    expect(check.bending!.sagM.valueSi).toBeCloseTo((10 * 8e-6) / (3 * 69e9 * 3.976e-12), 5);
    expect(check.findings.some((f) => f.code === 'too-weak')).toBe(true);
  });

  test.each([
    ['too-hot', { ...set, diameterM: 0.8e-3 }, { ...duty, currentA: 12 }],
    [
      'drop-large',
      { ...set, material: 'Ti grade 2', diameterM: 1.6e-3, dryLengthM: 1 },
      { ...duty, currentA: 3 },
    ],
    ['bends', { ...set, armM: 0.005 }, { ...duty, weightN: 4 }],
  ] as [string, HangerSet, typeof duty][])('%s: said with what would do, and it does', (code, thin, load) => {
    const check = checkHanger(thin, load);
    const finding = check.findings.find((f) => f.code === code);
    expect(finding).toBeDefined();
    expect(check.fixes.length).toBeGreaterThan(0);
    for (const fix of check.fixes) {
      expect(finding!.remedy).toContain(fix.text);
      expect(suffices({ ...thin, ...fix }, load)).toBe(true);
      expect(checkHanger({ ...thin, ...fix }, load).fixes).toEqual([]);
    }
  });

  test('thicker and more of them never do worse (fast-check)', () => {
    fc.assert(
      fc.property(
        fc.constantFrom<HangerMaterial>('Al 1100', 'Al 4043', 'Al 5356', 'Al 6061', 'Ti grade 2'),
        fc.double({ min: 0.8e-3, max: 8e-3, noNaN: true }),
        fc.integer({ min: 1, max: 6 }),
        fc.double({ min: 0.1, max: 60, noNaN: true }),
        (material, diameterM, count, currentA) => {
          const base = checkHanger({ ...set, material, diameterM, count }, { ...duty, currentA });
          const thicker = checkHanger(
            { ...set, material, diameterM: diameterM * 1.2, count },
            { ...duty, currentA },
          );
          const more = checkHanger({ ...set, material, diameterM, count: count + 1 }, { ...duty, currentA });
          for (const better of [thicker, more]) {
            expect(better.capacityDryA.valueSi).toBeGreaterThan(base.capacityDryA.valueSi);
            expect(better.capacityWetA.valueSi).toBeGreaterThan(base.capacityWetA.valueSi);
            expect(better.bending!.stressPa).toBeLessThan(base.bending!.stressPa);
          }
        },
      ),
      { numRuns: 60, seed: 4 },
    );
  });
});
