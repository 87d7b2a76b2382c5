import { describe, expect, test } from 'vitest';
import type { Bath, FieldBody } from '../../../core/field/bath-bodies.ts';
import { bathOfTank } from '../../../core/field/bath-of-tank.ts';
import { rodBody } from '../../../core/field/body-shapes.ts';
import { cutBath } from '../../../core/field/cut-cells.ts';
import { depthCoated } from '../../../core/field/bore-depth.ts';
import { CATHODE_LAW_DEFAULT, filmLaw } from '../../../core/field/film-law.ts';
import { fieldFigures } from '../../../core/field/field-figures.ts';
import { planGrid } from '../../../core/field/field-grid.ts';
import { solveCells } from '../../../core/field/solve-cells.ts';
import { solveField, type FieldProgress, type FieldResult } from '../../../core/field/solve-field.ts';
import { splitTriangles } from '../../../core/field/split-triangles.ts';
import {
  areaBelow,
  chargeForLeast,
  metresPerDensity,
  thicknessMap,
  thicknessOfFaces,
} from '../../../core/field/thickness-map.ts';
import type { Tank } from '../../../core/racking/tank.ts';
import type { Result } from '../../../core/result.ts';
import { box, revolved, turned } from './shapes.ts';

const CONDUCTIVITY = 58.9;
const COARSE = { mostCells: 32_000 };
const film = filmLaw();

function solved(result: Result<FieldResult>): FieldResult {
  if (!result.ok) throw new Error(result.error.message);
  return result.value;
}

const partOf = (positionsM: Float64Array, more: Partial<FieldBody> = {}): FieldBody => ({
  name: 'part',
  role: 'anode',
  positionsM,
  law: film.law,
  ...more,
});

const shifted = (positions: Float64Array, by: readonly [number, number, number]) =>
  positions.map((x, i) => x + by[i % 3]);

const boxTank = (cathodes: Tank['cathodes']): Tank => ({
  name: 'tank',
  vessel: { shape: 'box', lengthM: 0.4, widthM: 0.3, heightM: 0.35 },
  levelM: 0.3,
  cathodes,
  bars: [],
});

const sheet = (id: string, wall: 'x-' | 'x+', more: Partial<Tank['cathodes'][number]> = {}) => ({
  id,
  material: 'lead' as const,
  place: { on: 'wall' as const, wall, alongM: 0 },
  widthM: 0.2,
  bottomM: 0.05,
  heightM: 0.3,
  thicknessM: 0.003,
  standoffM: 0.01,
  backWorks: false,
  ...more,
});

const bathFor = (
  bodies: readonly FieldBody[],
  cathodes = [sheet('left', 'x-'), sheet('right', 'x+')],
): Bath => bathOfTank(boxTank(cathodes), 0.3, bodies, CONDUCTIVITY, CATHODE_LAW_DEFAULT);

/** A closed cup, bore down from the top: outer radius 20, bore 8 and 45 deep, 60 high; mm. */
const cup = revolved(
  [
    [0, -0.015],
    [0.008, -0.015],
    [0.008, 0.03],
    [0.02, 0.03],
    [0.02, -0.03],
    [0, -0.03],
  ],
  48,
  [0, 0, 0.15],
);

describe('a cup between two sheets', () => {
  const result = solved(solveField({ bath: bathFor([partOf(cup)]), part: 0, totalCurrentA: 1.5 }, COARSE));
  const { fine, coarse } = result;

  test('total current is the plan, anode equals cathode to 1e-6', () => {
    expect(Math.abs(fine.anodeCurrentA - 1.5)).toBeLessThan(1.5e-6);
    expect(Math.abs(fine.cathodeCurrentA - fine.anodeCurrentA)).toBeLessThan(1.5e-6);
    expect(fine.relativeResidual).toBeLessThanOrEqual(1e-6);
    const byName = Object.fromEntries(fine.currents.map(({ name, currentA }) => [name, currentA]));
    expect(byName['left'] + byName['right']).toBeCloseTo(1.5, 5);
    // Everything is symmetric in x.
    expect(byName['left'] / byName['right']).toBeCloseTo(1, 4);
    // And the triangles carry it: nothing is lost on the way back to the mesh.
    const carried = fine.part.triangleAPerM2.reduce((sum, j, t) => sum + j * fine.part.conductingM2[t], 0);
    expect(carried).toBeCloseTo(1.5, 5);
  });

  test('the conducting area is the mesh’s own', () => {
    let area = 0;
    for (let o = 0; o < cup.length; o += 9) {
      const [ax, ay, az] = [cup[o + 3] - cup[o], cup[o + 4] - cup[o + 1], cup[o + 5] - cup[o + 2]];
      const [bx, by, bz] = [cup[o + 6] - cup[o], cup[o + 7] - cup[o + 1], cup[o + 8] - cup[o + 2]];
      area += Math.hypot(ay * bz - az * by, az * bx - ax * bz, ax * by - ay * bx) / 2;
    }
    expect(fine.part.areaM2 / area).toBeCloseTo(1, 9);
    expect(coarse.part.areaM2 / area).toBeCloseTo(1, 9);
  });

  test('thin at the bottom of the bore, and about as the quick law has it', () => {
    const { part } = fine;
    const map = thicknessMap(part, 1.5, 1.5 * 2400, 1.8307e10);
    // Mean from charge, area and the charge constant alone.
    expect(map.meanM).toBeCloseTo((1.5 * 2400) / 1.8307e10 / part.areaM2, 9);
    expect(map.leastM).toBeLessThan(map.low5M);
    expect(map.low5M).toBeLessThan(map.high5M);
    const bore: number[] = [];
    for (let t = 0; t < cup.length / 9; t++) {
      const [x, y] = [0, 1].map((n) => (cup[t * 9 + n] + cup[t * 9 + 3 + n] + cup[t * 9 + 6 + n]) / 3);
      if (Math.abs(Math.hypot(x, y) - 0.008) < 2e-4) bore.push(t);
    }
    expect(bore.length).toBe(96);
    const fineBore = splitTriangles(cup, 0.003, 40_000);
    const again = solved(
      solveField(
        { bath: bathFor([partOf(fineBore.positions)]), part: 0, totalCurrentA: 1.5 },
        { ...COARSE, tolerance: 1e-7 },
      ),
    );
    const fineMap = thicknessMap(again.fine.part, 1.5, 1.5 * 2400, 1.8307e10);
    const inBore = [...fineBore.source.keys()].filter((t) => bore.includes(fineBore.source[t]));
    const at = (low: number, high: number) => {
      const chosen = inBore.filter(
        (t) => fineBore.positions[t * 9 + 2] > low && fineBore.positions[t * 9 + 2] < high,
      );
      return chosen.reduce((sum, t) => sum + fineMap.triangleM[t], 0) / chosen.length;
    };
    const share = at(0.135, 0.139) / at(0.176, 0.18);
    // λ = √(κ b r / 2) with b the film's slope at this density; the flat end adds half a radius of wall to the depth.
    const density = again.fine.part.currentA / again.fine.part.areaM2;
    const b =
      (film.law.kind === 'power'
        ? film.law.exponent * film.law.referenceV * (density / film.law.referenceAPerM2) ** film.law.exponent
        : 0) / density;
    const lambda = Math.sqrt((CONDUCTIVITY * b * 0.008) / 2);
    const deep = 0.045 + 0.004;
    const law = Math.cosh((deep - 0.043) / lambda) / Math.cosh((deep - 0.002) / lambda);
    // The film's law is not a straight line: the loss is right to 30 %.
    expect(Math.abs((1 - share) / (1 - law) - 1)).toBeLessThan(0.3);
    const mouthThickness = at(0.176, 0.18);
    const depth = depthCoated(
      fineBore.positions,
      inBore,
      fineMap.triangleM,
      again.fine.part.conductingM2,
      { mouth: [0, 0, 0.18], inward: [0, 0, -1], length: 0.045 },
      (mouthThickness + at(0.135, 0.139)) / 2,
      12,
    );
    expect(depth).toBeGreaterThan(0.01);
    expect(depth).toBeLessThan(0.035);
  });

  test('faces, areas under a limit and the charge for a least thickness agree with the map', () => {
    const { part } = fine;
    const perDensity = metresPerDensity(1.5, 3600, 1.8307e10);
    const map = thicknessMap(part, 1.5, 3600, 1.8307e10);
    const faces = thicknessOfFaces(
      part,
      Uint32Array.from({ length: cup.length / 9 }, (_, t) => t % 3),
      perDensity,
    );
    expect(faces.reduce((sum, { currentA }) => sum + currentA, 0)).toBeCloseTo(1.5, 5);
    expect(faces.reduce((sum, { areaM2 }) => sum + areaM2, 0)).toBeCloseTo(part.areaM2, 12);
    expect(areaBelow(part, part.mostAPerM2 * 1.001)).toBeCloseTo(part.areaM2, 12);
    expect(areaBelow(part, part.leastAPerM2)).toBe(0);
    const thinnest = map.triangleM.reduce((low, d) => Math.min(low, d), Infinity);
    expect(chargeForLeast(map, map.triangleM.keys(), 2 * thinnest, 3600)).toBeCloseTo(7200, 6);
    const figures = fieldFigures(result, {
      totalCurrentA: 1.5,
      chargeC: 3600,
      chargePerVolumeCPerM3: 1.8307e10,
      limitM: map.meanM,
      filmSource: film.source,
      filmUncertaintyV: 0.5,
    });
    expect(figures.leastM.valueSi).toBe(map.leastM);
    expect(figures.areaBelowM2.valueSi).toBeGreaterThan(0);
    expect(figures.areaBelowM2.valueSi).toBeLessThan(part.areaM2);
    expect(figures.chargeImbalance.valueSi).toBeLessThan(1e-6);
  });

  test('a finer grid stays within the stated error', () => {
    const finer = solved(
      solveField({ bath: bathFor([partOf(cup)]), part: 0, totalCurrentA: 1.5 }, { mostCells: 180_000 }),
    );
    expect(Math.abs(finer.fine.cellVoltageV - fine.cellVoltageV)).toBeLessThan(result.error.cellVoltageV);
    expect(Math.abs(finer.fine.part.leastAPerM2 - fine.part.leastAPerM2)).toBeLessThan(
      result.error.leastAPerM2,
    );
    expect(finer.error.rmsShare).toBeLessThan(result.error.rmsShare);
  });
});

describe('symmetry and the grid’s own direction', () => {
  const tub: Tank = {
    name: 'tub',
    vessel: { shape: 'round', diameterM: 0.3, heightM: 0.35 },
    levelM: 0.3,
    cathodes: [
      {
        id: 'ring',
        material: 'aluminium',
        place: { on: 'round', angleRad: 0 },
        widthM: 2 * Math.PI * 0.137,
        bottomM: 0.05,
        heightM: 0.2,
        thicknessM: 0.003,
        standoffM: 0.01,
        backWorks: false,
      },
    ],
    bars: [],
  };
  const block = box([-0.03, -0.03, -0.03], [0.03, 0.03, 0.03]);
  const at = (angleRad: number) => {
    const split = splitTriangles(shifted(turned(block, [0, 0, 1], angleRad), [0, 0, 0.15]), 0.01, 20_000);
    const bath = bathOfTank(tub, 0.3, [partOf(split.positions)], CONDUCTIVITY, CATHODE_LAW_DEFAULT);
    return { split, result: solved(solveField({ bath, part: 0, totalCurrentA: 2.5 }, COARSE)) };
  };

  test('a cube in a ring has the same thickness on its four sides, and on the two ends of each', () => {
    const { split, result } = at(0);
    const { triangleAPerM2, conductingM2 } = result.fine.part;
    const mean = (where: (x: number, y: number, z: number) => boolean) => {
      let current = 0;
      let area = 0;
      for (let t = 0; t < triangleAPerM2.length; t++) {
        const [x, y, z] = [0, 1, 2].map(
          (n) =>
            (split.positions[t * 9 + n] + split.positions[t * 9 + 3 + n] + split.positions[t * 9 + 6 + n]) /
            3,
        );
        if (!where(x, y, z)) continue;
        current += triangleAPerM2[t] * conductingM2[t];
        area += conductingM2[t];
      }
      return current / area;
    };
    const sides = [
      mean((x) => x > 0.0299),
      mean((x) => x < -0.0299),
      mean((_x, y) => y > 0.0299),
      mean((_x, y) => y < -0.0299),
    ];
    // The solution is converged to 1e-6; the 96-sided tub has the cube's symmetry.
    for (const side of sides) expect(Math.abs(side / sides[0] - 1)).toBeLessThan(1e-5);
    const ends = [mean((x, y) => x > 0.0299 && y > 0.015), mean((x, y) => x > 0.0299 && y < -0.015)];
    expect(Math.abs(ends[0] / ends[1] - 1)).toBeLessThan(1e-5);
    const overall = result.fine.part.currentA / result.fine.part.areaM2;
    expect(mean((x, y) => Math.abs(x) > 0.0299 && Math.abs(y) > 0.02) / overall).toBeGreaterThan(1);
  });

  test('turning the part against the grid moves nothing by more than the stated error', () => {
    const straight = at(0).result;
    for (const angle of [Math.PI / 6, Math.PI / 4]) {
      const { result } = at(angle);
      const meanOf = (r: FieldResult) => r.fine.part.currentA / r.fine.part.areaM2;
      expect(Math.abs(meanOf(result) / meanOf(straight) - 1)).toBeLessThan(straight.error.rmsShare);
      // Either grid may be off by what it states.
      for (const [value, error] of [
        [(r: FieldResult) => r.fine.cellVoltageV, straight.error.cellVoltageV + result.error.cellVoltageV],
        [(r: FieldResult) => r.fine.part.leastAPerM2, straight.error.leastAPerM2 + result.error.leastAPerM2],
      ] as const) {
        expect(Math.abs(value(result) - value(straight))).toBeLessThan(error);
      }
    }
  });
});

describe('what hangs with the part', () => {
  test('neighbours and hangers take their share, masks and contacts take none', () => {
    const part = box([-0.02, -0.02, 0.13], [0.02, 0.02, 0.17]);
    const twin = shifted(part, [0, 0.09, 0]);
    const wire = rodBody([0, 0, 0.165], [0, 0, 0.4], 0.003);
    const insulated = new Uint8Array(12).fill(1, 0, 2);
    const bodies = [
      partOf(part, { insulated, spots: [{ atM: [0, 0, 0.17], radiusM: 0.004 }] }),
      partOf(twin, { name: 'twin' }),
      partOf(wire, { name: 'wire' }),
    ];
    const { fine } = solved(solveField({ bath: bathFor(bodies), part: 0, totalCurrentA: 3 }, COARSE));
    const named = Object.fromEntries(fine.currents.map(({ name, currentA }) => [name, currentA]));
    expect(named['part'] + named['twin'] + named['wire']).toBeCloseTo(3, 5);
    // One of six sides masked, a contact of 8 mm on another: 5/6 less 0.5 %. The twin's film and distance are the same.
    expect(fine.part.triangleAPerM2[0]).toBe(0);
    expect(fine.part.areaM2 / 0.0096).toBeGreaterThan(5 / 6 - 0.008);
    expect(fine.part.areaM2 / 0.0096).toBeLessThan(5 / 6 - 0.003);
    expect(named['part'] / named['twin'] / (fine.part.areaM2 / 0.0096)).toBeCloseTo(1, 1);
    // 130 mm of a wire of 3 mm in the liquid above the part: 12.3 cm² against 80 and 96 cm².
    expect(named['wire'] / named['twin'] / ((0.13 * Math.PI * 0.003) / 0.0096)).toBeGreaterThan(0.9);
    expect(named['wire'] / named['twin'] / ((0.13 * Math.PI * 0.003) / 0.0096)).toBeLessThan(1.2);
  });

  test('one cathode only: the side that looks at it gets more', () => {
    const part = box([-0.02, -0.02, 0.13], [0.02, 0.02, 0.17]);
    const bath = bathFor([partOf(part)], [sheet('left', 'x-', { standoffM: 0, thicknessM: 0 })]);
    expect(bath.wallCathodes).toHaveLength(1);
    const { fine } = solved(solveField({ bath, part: 0, totalCurrentA: 1.2 }, COARSE));
    const [towards, away] = [fine.part.triangleAPerM2[0], fine.part.triangleAPerM2[2]];
    expect(towards).toBeGreaterThan(away);
  });
});

describe('progress, memory, refusals', () => {
  const request = { bath: bathFor([partOf(cup)]), part: 0, totalCurrentA: 1.5 };

  test('memory is stated first, the residual falls, the coarse answer comes with the fine grid', () => {
    const seen: FieldProgress[] = [];
    solved(solveField(request, COARSE, (progress) => void seen.push(progress)));
    expect(seen[0].stage).toBe('cutting');
    expect(seen[0].bytes).toBeGreaterThan(1e6);
    expect(seen.at(-1)!.relativeResidual).toBeLessThan(1e-6);
    const shares = seen.map(({ share }) => share);
    expect(shares[0]).toBe(0);
    expect(Math.max(...shares)).toBeLessThanOrEqual(1);
    expect(seen.find(({ grid }) => grid === 'fine')!.coarse!.areaM2).toBeGreaterThan(0);
  });

  test('false from the callback stops it', () => {
    for (const stopAt of [1, 3, 12]) {
      let calls = 0;
      const result = solveField(request, COARSE, () => ++calls < stopAt);
      expect(result).toMatchObject({ ok: false, error: { code: 'cancelled' } });
      expect(calls).toBe(stopAt);
    }
  });

  test.each([
    ['field-out-of-bath', { ...request, bath: bathFor([partOf(shifted(cup, [0, 0, 0.4]))]) }, {}],
    ['field-no-cathode', { ...request, bath: bathFor([partOf(cup)], []) }, {}],
    ['field-not-closed', { ...request, bath: bathFor([partOf(cup.slice(9 * 60))]) }, {}],
    [
      'field-no-anode',
      { ...request, bath: bathFor([partOf(cup, { insulated: new Uint8Array(cup.length / 9).fill(1) })]) },
      {},
    ],
    ['field-memory', request, { mostCells: 256 ** 3, mostBytes: 1e9 }],
  ] as const)('%s', (code, bad, options) => {
    const result = solveField(bad, { ...COARSE, ...options });
    expect(result).toMatchObject({ ok: false, error: { code } });
  });
});

describe('sheets in the tank', () => {
  const part = box([-0.02, -0.02, 0.13], [0.02, 0.02, 0.17]);
  const areaOf = (cathodes: Tank['cathodes']) => {
    const bath = bathFor([partOf(part)], [...cathodes] as ReturnType<typeof sheet>[]);
    const { x, y, z } = planGrid(bath, [-0.02, -0.02, 0.13], [0.02, 0.02, 0.17], 40_000).fine;
    const cut = cutBath(bath, { x, y, z });
    return cut.system.cathodes.areaM2.reduce((a, b) => a + b, 0);
  };

  test('the wetted working area is front, or front, back and edges, up to the level', () => {
    // 0.2 m wide, from 0.05 m up to the level at 0.3 m.
    expect(areaOf([sheet('a', 'x-')])).toBeCloseTo(0.2 * 0.25, 9);
    expect(areaOf([sheet('a', 'x-', { standoffM: 0, thicknessM: 0 })])).toBeCloseTo(0.2 * 0.25, 9);
    const free = sheet('a', 'x+', { backWorks: true, standoffM: 0.03, thicknessM: 0.003 });
    expect(areaOf([free])).toBeCloseTo(2 * 0.2 * 0.25 + 0.003 * (0.2 + 2 * 0.25), 9);
  });

  test('a free sheet takes more at its front than at its back', () => {
    const bath = bathFor(
      [partOf(part)],
      [sheet('a', 'x+', { backWorks: true, standoffM: 0.03, thicknessM: 0.003 })],
    );
    const body = bath.bodies.findIndex(({ name }) => name === 'a');
    const lines = planGrid(bath, [-0.02, -0.02, 0.13], [0.02, 0.02, 0.17], 40_000).fine;
    const cut = cutBath(bath, lines);
    const { state, outcome } = solveCells(cut.system, lines, {
      totalCurrentA: 1.2,
      tolerance: 1e-6,
      mostNewtonSteps: 30,
    });
    expect(outcome).toBe('solved');
    const sums = { front: 0, back: 0 };
    for (let p = 0; p < cut.pieces.count; p++) {
      if (cut.pieces.body[p] !== body || Math.abs(cut.pieces.normal[p * 3]) < 0.9) continue;
      const j = state.cathodeAPerM2[cut.pieces.patch[p]];
      sums[cut.pieces.normal[p * 3] < 0 ? 'front' : 'back'] += j * cut.pieces.areaM2[p];
    }
    expect(sums.front).toBeGreaterThan(2 * sums.back);
    expect(sums.back).toBeGreaterThan(0);
  });
});

describe('several parts', () => {
  /** A short tube: outer radius 12, bore 3, 15 high; mm. */
  const tube = revolved(
    [
      [0.003, -0.0075],
      [0.012, -0.0075],
      [0.012, 0.0075],
      [0.003, 0.0075],
      [0.003, -0.0075],
    ],
    24,
  );
  const row = [-0.09, -0.03, 0.03, 0.09].map((y) => partOf(shifted(tube, [0, y, 0.15]), { name: `at ${y}` }));

  // By the mirror: the bath is the same on both sides of y = 0, whichever part the grid is fine at.
  test.each([
    [0, 3],
    [1, 2],
    [3, 0],
  ])('part %i of four alike takes what its mirror image, part %i, does', (mapped, mirror) => {
    const { fine } = solved(solveField({ bath: bathFor(row), part: mapped, totalCurrentA: 0.6 }, COARSE));
    const [own, other] = [mapped, mirror].map((i) => fine.currents[i]!.currentA);
    expect(Math.abs(own! / other! - 1)).toBeLessThan(0.02);
    expect(fine.part.currentA).toBeCloseTo(own!, 9);
  });
});
