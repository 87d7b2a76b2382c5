import { describe, expect, test } from 'vitest';
import { emptyJob, newPart } from '../../../core/job/default-job.ts';
import { addPart, putContact } from '../../../core/job/edit-job.ts';
import { planHanging } from '../../../core/job/hanging-plan.ts';
import { FIRST_HANGER } from '../../../core/job/job-hanging.ts';
import { checkHanger, USUAL_DUTY } from '../../../core/racking/check-hanger.ts';
import { HANGER_METALS } from '../../../core/racking/hanger-materials.ts';
import { USUAL_TANK_RULES } from '../../../core/racking/tank.ts';
import { alloyByName } from '../../../core/reference/alloys.ts';

describe('current by cross-section, as the finishing guidebook prints it for racks', () => {
  const guideA = (material: 'Al 1100' | 'Ti grade 2', inches: number, count = 1): number =>
    checkHanger(
      { ...FIRST_HANGER, material, diameterM: inches * 0.0254, count },
      { ...USUAL_DUTY, currentA: 1, weightN: null, airK: 293.15, bathK: 293.15 },
    ).guideA.valueSi;

  // Metal Finishing Guidebook, racks, Table II: round aluminium rods of 1, 1/2, 1/4 and 1/8 in. Printed rounded.
  test.each([
    [1, 465, 475],
    [1 / 2, 115, 125],
    [1 / 4, 28, 32],
    [1 / 8, 5, 7.5],
  ])('aluminium rod of %d in', (inches, low, high) => {
    expect(guideA('Al 1100', inches)).toBeGreaterThanOrEqual(low);
    expect(guideA('Al 1100', inches)).toBeLessThanOrEqual(high);
  });

  test('titanium carries a nineteenth of it: the same table gives 600 and 31 A per square inch', () => {
    expect(guideA('Al 1100', 1 / 4) / guideA('Ti grade 2', 1 / 4)).toBeCloseTo(600 / 31, 2);
    // And so do the resistivities, by another table: 19.2 to one.
    expect(
      HANGER_METALS['Ti grade 2'].resistivityOhmM / HANGER_METALS['Al 1100'].resistivityOhmM,
    ).toBeCloseTo(19.2, 1);
    expect(guideA('Al 1100', 1 / 4, 3)).toBeCloseTo(3 * guideA('Al 1100', 1 / 4), 9);
  });
});

test('resistivities by the definition of IACS: 1.7241 µΩ·cm over the share', () => {
  // Open % IACS tables: 1100-O 59, 5356 29, 6061-T6 43; 4043 42 from memory.
  for (const [name, share] of [
    ['Al 1100', 0.59],
    ['Al 5356', 0.29],
    ['Al 6061', 0.43],
    ['Al 4043', 0.42],
  ] as const) {
    expect(HANGER_METALS[name].resistivityOhmM / 1e-8).toBeCloseTo(1.7241 / share, 3);
  }
});

describe('weight on the hangers', () => {
  /** Closed form: a hollow post 30/24 × 70 mm welded on a plate of 80 × 80 × 6 mm. */
  const POST_MM3 = (Math.PI / 4) * (30 ** 2 - 24 ** 2) * 70 + 80 * 80 * 6;
  const massG = (alloy: string | null): number => {
    const part = { ...newPart('p', 'post.stl', 1, 'mm', true), alloy };
    const job = putContact(addPart(emptyJob('job'), part), 'p', {
      id: 'a',
      at: [0, 0, 70],
      triangle: 0,
      patchDiameterM: 0.003,
      hanger: FIRST_HANGER,
    });
    const moments = { volume: POST_MM3, centre: [0, 0, 20] as const };
    const ground = { open: null, moments, centre: moments.centre, size: 130, traps: null };
    const plan = planHanging(job, job.parts[0]!, ground, 0.02, 'metric');
    // On one hanger all of it, standard gravity.
    expect(plan.contacts[0]!.weightN).toBeCloseTo(plan.massKg!.valueSi * 9.80665, 9);
    return plan.massKg!.valueSi * 1000;
  };

  test('the post weighs 151.77 g at 2.70 g/cm³, and as 6061 until an alloy is named', () => {
    expect(POST_MM3).toBeCloseTo(56212.83, 2);
    expect(massG('6061')).toBeCloseTo(151.77, 2);
    expect(massG(null)).toBeCloseTo(151.77, 2);
  });

  // Data sheets; JIS H 5302 composition tables for ADC12. Grams of the same post.
  test.each([
    ['7075', 2.81, 2.81],
    ['5052', 2.68, 2.68],
    ['6063', 2.69, 2.7],
    ['6082', 2.7, 2.7],
    ['A356', 2.67, 2.69],
    ['380', 2.71, 2.76],
    ['ADC12 (383)', 2.68, 2.74],
  ])('%s: %d to %d g/cm³', (name, low, high) => {
    expect(alloyByName(name)).toBeDefined();
    expect(massG(name) / (POST_MM3 / 1000)).toBeGreaterThanOrEqual(low - 5e-3);
    expect(massG(name) / (POST_MM3 / 1000)).toBeLessThanOrEqual(high + 5e-3);
  });

  test('wire weighs what its alloy weighs as a part', () => {
    for (const [wire, alloy] of [
      ['Al 1100', '1100'],
      ['Al 4043', '4043'],
      ['Al 5356', '5356'],
      ['Al 6061', '6061'],
    ] as const) {
      expect(HANGER_METALS[wire].densityKgPerM3).toBeCloseTo(alloyByName(alloy)!.densityKgPerM3.usual, 6);
    }
  });
});

test('cathode and distance: 3 parts of work to one of cathode is inside what is allowed, 1 : 5 and 1 : 1 are its ends', () => {
  // “Cathode Materials and Cathode/Anode Ratios”, trade journal; 150-300 mm to the sheet is common practice.
  const { cathodeRatioLow, cathodeRatioHigh, partToCathodeM } = USUAL_TANK_RULES;
  expect([cathodeRatioLow, cathodeRatioHigh]).toEqual([1 / 5, 1]);
  expect(partToCathodeM).toBeGreaterThanOrEqual(0.15);
  expect(partToCathodeM).toBeLessThanOrEqual(0.3);
});
