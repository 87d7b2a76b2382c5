/**
 * The welded post from its two touching solids to amps, minutes and grams. Closed forms:
 * post 12384.16 + plate 14720 − 2 rings of 254.469 = 26595.22 mm²; 56212.83 mm³.
 */
import { ShapeUtils, Vector2 } from 'three';
import { expect, test } from 'vitest';
import { planRun } from '../../../core/electrical/plan-run.ts';
import { DEFAULT_PROCESS, newPart } from '../../../core/job/default-job.ts';
import { loadItems } from '../../../core/job/load-items.ts';
import { measurePart } from '../../../core/job/measure-part.ts';
import { preparePart } from '../../../core/job/prepare-part.ts';
import { fromUnit, unitBySymbol } from '../../../core/units/find-unit.ts';
import { box, placed, Soup, tube } from '../../fixtures/shapes.ts';
import { solidKit } from '../../fixtures/solid-kit.ts';
import { valueOf } from '../value-of.ts';

const kit = await solidKit();
const cutPolygon = (contour: readonly { x: number; y: number }[]): number[][] =>
  ShapeUtils.triangulateShape(
    contour.map(({ x, y }) => new Vector2(x, y)),
    [],
  );
const SIDES = 360;
const WELDED = new Soup()
  .add(box(80, 80, 6, [-40, -40, 0]))
  .add(placed(tube(15, 12, 70, SIDES), { shift: [0, 0, 6] })).positions;

const measured = (fuseGap: number | null) => {
  const plain = newPart('p', 'post.stl', 0, 'mm', true);
  const part = { ...plain, surface: { ...plain.surface, fuseGap } };
  const { geometry } = preparePart({ positions: WELDED, bodies: [] }, part, { cutPolygon, kit });
  return { part, geometry, measure: measurePart(part, geometry) };
};

test('two touching solids are told, and their raw sum is 1.91 % too high', () => {
  const { geometry, measure } = measured(null);
  expect(geometry.findings.map(({ code }) => code)).toContain('bodies-meet');
  expect(measure.totalM2 * 1e6).toBeCloseTo(27104.16, 1);
  expect((measure.totalM2 * 1e6) / 26595.22 - 1).toBeCloseTo(0.0191, 4);
});

test('fused: area, amps for 1 mil at 12 A/ft², minutes, volume and mass', () => {
  const { part, measure } = measured(0);
  expect(measure.totalM2 * 1e6).toBeCloseTo(26595.22, 1);
  // A polygon of 360 sides encloses 1 − 5e-5 of its circle.
  expect((measure.volumeM3 * 1e9) / 56212.83).toBeCloseTo(1, 4);
  // At 2.70 g/cm³.
  expect((measure.volumeM3 * 2700 * 1000) / 151.77).toBeCloseTo(1, 4);
  const process = {
    ...DEFAULT_PROCESS,
    thicknessM: fromUnit(1, unitBySymbol('length', 'mil')),
    currentDensityAPerM2: fromUnit(12, unitBySymbol('currentDensity', 'A/ft²')),
    rampS: 0,
    supplyCurrentLimitA: null,
  };
  const plan = valueOf(planRun(loadItems([part], { p: measure }), process));
  expect(plan.currentA.valueSi).toBeCloseTo(3.435, 3);
  expect(plan.totalS.valueSi / 60).toBeCloseTo(60, 9);
});

test('the table of inscribed facets: what n sides cut off a wall and a disc', () => {
  // n, lateral factor, area factor, as printed; here from the polygon's own sides and area.
  const rows = [
    [8, 1.026172, 1.110721],
    [12, 1.011515, 1.047198],
    [16, 1.006455, 1.026172],
    [24, 1.002862, 1.011515],
    [32, 1.001608, 1.006455],
    [48, 1.000714, 1.002862],
    [64, 1.000402, 1.001608],
  ] as const;
  for (const [n, lateral, disc] of rows) {
    const { geometry } = (() => {
      const plain = newPart('p', 'bar.stl', 0, 'mm', true);
      const bar = tube(10, 5, 30, n);
      return preparePart({ positions: bar, bodies: [] }, plain, { cutPolygon, kit });
    })();
    const { faces, facets } = geometry;
    const areas = Array.from(faces.area).sort((a, b) => a - b);
    // From 12 sides on the program takes it for round, and its factors are the table's to 2 % of what they add.
    if (n >= 12) {
      const walls = Array.from({ length: faces.count }, (_, f) => f).filter(
        (f) => Math.abs(faces.area[f]! - (2 * Math.PI * 30 * 10) / lateral) < 1,
      );
      expect(walls).toHaveLength(1);
      expect(Math.abs(facets!.factorOfFace[walls[0]!]! - lateral)).toBeLessThan(0.02 * (lateral - 1));
    }
    // The ring of polygons between radius 10 and 5.
    const ring = (Math.PI * 75) / disc;
    expect(areas.some((area) => Math.abs(area / ring - 1) < 1e-5)).toBe(true);
  }
});
