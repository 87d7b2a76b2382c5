import type loadManifold from 'manifold-3d';
import { beforeAll, describe, expect, it } from 'vitest';
import { solveScene } from '../../../core/field/solve-scene.ts';
import { emptyJob, newPart, newPartWithoutFile } from '../../../core/job/default-job.ts';
import { changeProcess } from '../../../core/job/edit-job.ts';
import { changeField, setLeastFaces } from '../../../core/job/edit-field.ts';
import { chooseTank, setPlacements } from '../../../core/job/edit-hanging.ts';
import { fieldMessages } from '../../../core/job/field-messages.ts';
import { readBores, readField } from '../../../core/job/field-reading.ts';
import { bathConductivity, fieldSetting, type FieldGround } from '../../../core/job/field-setting.ts';
import { fieldSheetLine } from '../../../core/job/field-sheet-line.ts';
import { FIRST_HANGER } from '../../../core/job/job-hanging.ts';
import type { Job, Part } from '../../../core/job/job.ts';
import { withFacets } from '../../../core/job/correct-facets.ts';
import { measurePart } from '../../../core/job/measure-part.ts';
import { usualTank } from '../../../core/job/usual-tank.ts';
import { runsOfFaces } from '../../../core/faces/runs-of-faces.ts';
import { analysePart } from '../../../core/mesh/analyse-part.ts';
import type { PartGeometry } from '../../../core/mesh/part-geometry.ts';
import { boxTriangles, type Triangle } from '../../fixtures/model-bytes.ts';
import { cylinder } from '../../fixtures/shapes.ts';
import { solidKit } from '../../fixtures/solid-kit.ts';
import { valueOf } from '../value-of.ts';

const CELLS = 24 ** 3;
const DENSITY = 130;

/** Millimetres. */
function geometryOf(triangles: readonly Triangle[]): PartGeometry {
  const bodies = [{ name: 'part', firstTriangle: 0, triangleCount: triangles.length }];
  return analysePart(new Float32Array(triangles.flat()), bodies, { splitAngleRad: 0.6 });
}

/** A tray with walls and floor 4 mm thick, open towards +z. */
function tray(): Triangle[] {
  const [x, y, z] = [60, 40, 20];
  const isTop = (t: Triangle, at: number): boolean => t.every((v, i) => i % 3 !== 2 || v === at);
  const outer = boxTriangles(x, y, z).filter((t) => !isTop(t, z));
  const inner = boxTriangles(x - 8, y - 8, z - 4)
    .filter((t) => !isTop(t, z - 4))
    .map((t) => t.map((v) => v + 4))
    .map((t) => [...t.slice(0, 3), ...t.slice(6, 9), ...t.slice(3, 6)]);
  const ring = (inset: number): number[][] => [
    [inset, inset, z],
    [x - inset, inset, z],
    [x - inset, y - inset, z],
    [inset, y - inset, z],
  ];
  const rim = [0, 1, 2, 3].flatMap((k) => {
    const [a, b] = [ring(0)[k]!, ring(0)[(k + 1) % 4]!];
    const [d, c] = [ring(4)[k]!, ring(4)[(k + 1) % 4]!];
    return [
      [...a, ...b, ...c],
      [...a, ...c, ...d],
    ];
  });
  return [...outer, ...inner, ...rim];
}

const cube = geometryOf(boxTriangles(60, 60, 60));

function setUp(geometry: PartGeometry, change: Partial<Part> = {}) {
  const part: Part = { ...newPart('p', 'part.stl', 684, 'mm', true), ...change };
  const ground: FieldGround = {
    geometry,
    measure: measurePart(part, geometry),
    plugs: null,
    meshKey: 'mesh',
  };
  let job: Job = { ...emptyJob('test'), parts: [part] };
  job = changeProcess(job, { currentDensityAPerM2: DENSITY, thicknessM: 20e-6 });
  job = chooseTank(
    job,
    usualTank({ alongM: 0.06, acrossM: 0.06, heightM: 0.06, middleM: [0.03, 0.03, 0.03] }),
  );
  return { job, part, ground, grounds: { p: ground } };
}

function solve(job: Job, ground: FieldGround, change: Parameters<typeof fieldSetting>[4] = {}) {
  const setting = valueOf(fieldSetting(job, 'p', { p: ground }, 0, { mostCells: CELLS, ...change }));
  const field = valueOf(solveScene(setting.scene));
  return { setting, field, reading: readField(job, setting, field, ground) };
}

const faceMean = (reading: ReturnType<typeof readField>, row: number): number =>
  reading.faces.find(({ face }) => face === row)!.meanM;

describe('a round part of few facets', () => {
  // 12 facets round lose 1.15 % of the wall and 4.5 % of the ends (check: θ/2 over its sine, θ over its sine, θ = 30°).
  const rod = analysePart(cylinder(20, 60, 12), [], { splitAngleRad: 0.6 });
  const { job, part, ground } = setUp(withFacets(rod, []));

  it('gets the planned film in the mean, and the plan’s current for its true area', () => {
    expect(ground.measure.coatedM2 / ground.measure.meshM2).toBeGreaterThan(1.01);
    const { setting, reading } = solve(job, ground);
    expect(setting.plannedCurrentA).toBeCloseTo(DENSITY * ground.measure.coatedM2, 12);
    expect(setting.scene.totalCurrentA).toBeCloseTo(DENSITY * ground.measure.meshM2, 6);
    expect(reading.map.meanM / job.process.thicknessM).toBeCloseTo(1, 4);
    const anodes = reading.currents.filter(({ role }) => role === 'anode');
    expect(anodes.reduce((sum, { currentA }) => sum + currentA, 0)).toBeCloseTo(setting.plannedCurrentA, 5);
    expect(part.contacts).toEqual([]);
  });
});

describe('a cube alone in a usual tank', () => {
  const { job, ground } = setUp(cube);
  let solved: ReturnType<typeof solve>;
  beforeAll(() => {
    solved = solve(job, ground);
  });

  it('takes the planned current, and what leaves it enters the sheets', () => {
    const { setting, reading } = solved;
    expect(setting.scene.totalCurrentA).toBeCloseTo(DENSITY * 6 * 0.06 ** 2, 12);
    const sum = (role: string): number =>
      reading.currents.filter((one) => one.role === role).reduce((all, { currentA }) => all + currentA, 0);
    // Conservation; the solver's own tolerance is 1e-6 of the current.
    expect(sum('anode') / setting.scene.totalCurrentA).toBeCloseTo(1, 5);
    expect(sum('cathode') / setting.scene.totalCurrentA).toBeCloseTo(1, 5);
  });

  it('has as mean what was planned: charge is thickness times area times the constant', () => {
    const { reading } = solved;
    expect(reading.map.areaM2).toBeCloseTo(6 * 0.06 ** 2, 9);
    expect(reading.map.meanM / 20e-6).toBeCloseTo(1, 5);
    const fromFaces = reading.faces.reduce((all, { areaM2, meanM }) => all + areaM2 * meanM, 0);
    expect(fromFaces / reading.map.areaM2 / reading.map.meanM).toBeCloseTo(1, 6);
  });

  it('is the same on sides that see the same, and thicker towards the sheets', () => {
    const { reading } = solved;
    const [, , front, back, left, right] = [0, 1, 2, 3, 4, 5].map((row) => faceMean(reading, row));
    // Symmetric grid, symmetric tank; the float32 map and 1e-6 in the solution are left.
    expect(front! / back!).toBeCloseTo(1, 4);
    expect(left! / right!).toBeCloseTo(1, 4);
    expect(front!).toBeGreaterThan(left!);
  });

  it('says alone in the middle where nothing hangs yet', () => {
    expect(solved.setting.assumed).toEqual([
      'No load hangs in the tank yet: one piece is taken, in the middle.',
    ]);
  });

  it('with one sheet only, the side towards it gets more', () => {
    const { tank } = job.tank!;
    const one = { ...tank, cathodes: tank.cathodes.filter(({ id }) => id === 'sheet y-') };
    const { reading } = solve(job, ground, { tank: one });
    expect(faceMean(reading, 2)).toBeGreaterThan(faceMean(reading, 3));
  });

  it('is found again by its key, whatever the thickness, and by another for another scene', () => {
    const keyOf = (other: Job, variant = {}): string =>
      valueOf(fieldSetting(other, 'p', { p: ground }, 0, { mostCells: CELLS, ...variant })).key;
    const { key } = solved.setting;
    expect(keyOf(changeProcess(job, { thicknessM: 5e-6 }))).toBe(key);
    expect(keyOf(changeProcess(job, { currentDensityAPerM2: 100 }))).not.toBe(key);
    expect(keyOf(job, { attitude: { up: [1, 0, 0], turnRad: 0 } })).not.toBe(key);
    expect(keyOf(changeField(job, { conductivitySPerM: 50 }))).not.toBe(key);
    const masked = setUp(cube, { coverage: { mask: [0, 2], contact: [], show: [] } });
    expect(valueOf(fieldSetting(masked.job, 'p', masked.grounds, 0, { mostCells: CELLS })).key).not.toBe(key);
  });

  it('a plan raised to the asked least gives it, and no face that is not asked decides it', () => {
    const { setting, field } = solved;
    const asked = changeField(job, { leastM: 21e-6 });
    const reading = readField(asked, setting, field, ground);
    expect(reading.thicknessForLeastM).toBeGreaterThan(21e-6);
    const raised = changeProcess(asked, { thicknessM: reading.thicknessForLeastM! });
    const after = readField(raised, setting, field, ground);
    expect(after.askedLeastM / 21e-6).toBeCloseTo(1, 6);
    expect(after.thicknessForLeastM).toBeNull();
    const front = setLeastFaces(asked, 'p', runsOfFaces(cube.faces, [2]));
    const onFront = readField(front, setting, field, ground);
    expect(onFront.askedLeastM).toBeGreaterThan(reading.askedLeastM);
    expect(onFront.thicknessForLeastM!).toBeLessThan(reading.thicknessForLeastM!);
  });

  it('says what is too thin, on the stage and on the sheet', () => {
    const { setting, field } = solved;
    const asked = changeField(job, { leastM: 21e-6 });
    const reading = readField(asked, setting, field, ground);
    const codes = fieldMessages(asked, job.parts[0]!, reading, null).map(
      ({ level, code }) => `${level} ${code}`,
    );
    expect(codes).toEqual(['check too-thin', 'check area-too-thin']);
    // All of it: a share of one is 100 %, not 1.0e+2 %.
    const all = changeField(job, { leastM: 30e-6 });
    const messages = fieldMessages(all, job.parts[0]!, readField(all, setting, field, ground), null);
    expect(messages[1]!.message).toMatch(/^100 % of “/);
    expect(fieldMessages(job, job.parts[0]!, solved.reading, null)).toEqual([]);
    expect(fieldSheetLine('Cube', solved.reading, 'metric')).toMatch(
      /^Cube, by the thickness map: mean 20\.0 µm, least \d+\.\d µm \(f\d\), .* 0 % of the area below 10\.0 µm\.$/,
    );
  });
});

describe('deep narrow holes', () => {
  it('hold the less the deeper, and alike ones are told together', async () => {
    const kit = await solidKit();
    const { Manifold } = kit as unknown as Awaited<ReturnType<typeof loadManifold>>;
    const hole = (x: number, depth: number) =>
      Manifold.cylinder(depth + 1, 2, 2, 32).translate([x, 20, 50 - depth]);
    const mesh = Manifold.cube([60, 40, 50], false).subtract(hole(12, 45)).subtract(hole(48, 45)).getMesh();
    const soup = [...mesh.triVerts].flatMap((v) => [...mesh.vertProperties.subarray(3 * v, 3 * v + 3)]);
    const geometry = geometryOf(
      Array.from({ length: soup.length / 9 }, (_, t) => soup.slice(9 * t, 9 * t + 9)),
    );
    const { job: plain, ground } = setUp(geometry);
    const { setting, field, reading: first } = solve(plain, ground);
    // Asked for a tenth less than the mean: the outside has it, the bottom of a hole of 22 radii has not.
    const job = changeField(plain, { leastM: 0.9 * first.map.meanM });
    const reading = readField(job, setting, field, ground);
    const summary = valueOf(readBores(job, job.parts[0]!, ground, { reading, field }));
    expect(summary.bores).toHaveLength(2);
    for (const { heldM, bore } of summary.bores) {
      expect(bore.through).toBe(false);
      expect(heldM!).toBeGreaterThan(0.05 * bore.depthM);
      expect(heldM!).toBeLessThan(0.98 * bore.depthM);
    }
    // Asked for next to nothing a hole holds on all of its depth, and on no more.
    const little = changeField(plain, { leastM: 1e-9 });
    const read = readField(little, setting, field, ground);
    for (const { heldM, bore } of valueOf(
      readBores(little, little.parts[0]!, ground, { reading: read, field }),
    ).bores) {
      expect(heldM! / bore.depthM).toBeGreaterThan(0.97);
      expect(heldM!).toBeLessThanOrEqual(bore.depthM);
    }
    for (const { heldM, estimate } of summary.bores) {
      // The quick law takes the mouth's own thickness as whole and is good to 30 % on its length: the same order.
      expect(heldM! / estimate.depthHeldM.valueSi).toBeGreaterThan(0.3);
      expect(heldM! / estimate.depthHeldM.valueSi).toBeLessThan(3);
    }
    const bare = fieldMessages(job, job.parts[0]!, reading, summary).filter(
      ({ code }) => code === 'bore-bare',
    );
    expect(bare).toHaveLength(1);
    expect(bare[0]!.message).toMatch(/^The holes f\d+, f\d+ of/);
  });
});

describe('masks, gas and hangers', () => {
  it('a masked side gets nothing and the others more', () => {
    const { job, ground } = setUp(cube, {
      coverage: { mask: runsOfFaces(cube.faces, [1]), contact: [], show: [] },
    });
    const { reading, setting } = solve(job, ground);
    expect(reading.faces.map(({ face }) => face)).toEqual([0, 2, 3, 4, 5]);
    expect(reading.map.areaM2).toBeCloseTo(5 * 0.06 ** 2, 9);
    expect(setting.scene.totalCurrentA).toBeCloseTo(DENSITY * 5 * 0.06 ** 2, 12);
  });

  it('a tray upside down keeps gas over its whole inside, right way up none', () => {
    const geometry = geometryOf(tray());
    const upright = setUp(geometry);
    expect(solve(upright.job, upright.ground).field.gasM2).toBe(0);
    const over = setUp(geometry, { attitude: { up: [0, 0, -1], turnRad: 0 } });
    const { field, reading } = solve(over.job, over.ground);
    // Floor and walls of the inside, whole millimetres.
    const inside = (52 * 32 + 2 * (52 + 32) * 16) * 1e-6;
    expect(field.gasM2).toBeCloseTo(inside, 9);
    expect(reading.map.areaM2).toBeCloseTo(over.ground.measure.coatedM2 - inside, 7);
  });

  const pinned = (material: 'Al 1100' | 'Ti grade 2') => {
    const hanger = { ...FIRST_HANGER, material, diameterM: 0.003, wetLengthM: 0.03 };
    const top = [...cube.faces.faceOfTriangle.keys()].find((t) => cube.faces.faceOfTriangle[t] === 1)!;
    const contacts: Part['contacts'] = [
      { id: 'c', at: [40, 20, 60], triangle: top, patchDiameterM: 0.003, hanger },
    ];
    return setUp(cube, { contacts });
  };

  it('aluminium wire takes its share, titanium none', () => {
    const aluminium = pinned('Al 1100');
    const { reading } = solve(aluminium.job, aluminium.ground);
    const wire = reading.currents.find(({ name }) => name.startsWith('wire at pin 1'))!;
    // From the contact 30 mm below the level up to it; at a density near the part's, which is even to some percent.
    const areaM2 = Math.PI * 0.003 * 0.03;
    expect(wire.currentA / (DENSITY * areaM2)).toBeGreaterThan(0.8);
    expect(wire.currentA / (DENSITY * areaM2)).toBeLessThan(1.25);
    expect(Math.abs(reading.wires.hungShare - reading.wires.plannedShare)).toBeLessThan(0.01);
    const titanium = pinned('Ti grade 2');
    const other = solve(titanium.job, titanium.ground).reading;
    expect(other.currents.map(({ name }) => name)).toEqual(['part', 'sheet y-', 'sheet y+']);
  });

  it('a long wire in the plan that does not hang in the bath is told', () => {
    const { job, ground, part } = pinned('Al 1100');
    const long: Part = {
      ...part,
      contacts: part.contacts.map((pin) => ({
        ...pin,
        hanger: { ...pin.hanger, lengthsFrom: 'typed' as const, wetLengthM: 0.3 },
      })),
    };
    const { reading } = solve({ ...job, parts: [long] }, ground);
    expect(fieldMessages(job, long, reading, null).map(({ code }) => code)).toEqual(['wires-differ']);
  });
});

describe('what the setting needs', () => {
  it('copies in the tank are all there, the chosen one mapped', () => {
    const { job, grounds } = setUp(cube);
    const rotation = [1, 0, 0, 0, 1, 0, 0, 0, 1];
    const hung = setPlacements(job, [
      { id: 'a', partId: 'p', pose: { rotation, offsetM: [-0.1, -0.03, 0.05] } },
      { id: 'b', partId: 'p', pose: { rotation, offsetM: [0.04, -0.03, 0.05] } },
    ]);
    const { scene, assumed } = valueOf(fieldSetting(hung, 'p', grounds, 1));
    expect(scene.copies).toHaveLength(2);
    expect(scene.mapped).toBe(1);
    expect(scene.totalCurrentA).toBeCloseTo(2 * DENSITY * 6 * 0.06 ** 2, 12);
    expect(assumed).toEqual([]);
    // The level rises by the metal under it over the tank's floor.
    const { vessel, levelM } = hung.tank!.tank;
    if (vessel.shape !== 'box') throw new Error('the usual tank is a box');
    expect(scene.levelM).toBeCloseTo(levelM + (2 * 0.06 ** 3) / (vessel.lengthM * vessel.widthM), 9);
  });

  it('turned, its top stays as deep as before', () => {
    const { job, ground } = setUp(geometryOf(boxTriangles(60, 40, 20)));
    for (const up of [
      [0, 0, 1],
      [1, 0, 0],
      [0, -1, 0],
    ] as const) {
      const { scene } = valueOf(
        fieldSetting(job, 'p', { p: ground }, 0, { attitude: { up: [...up], turnRad: 0.3 } }),
      );
      const { rotation, offsetM } = scene.copies[0]!.pose;
      const heights = [0, 1].flatMap((i) =>
        [0, 1].flatMap((j) =>
          [0, 1].map(
            (k) => rotation[6]! * 0.06 * i + rotation[7]! * 0.04 * j + rotation[8]! * 0.02 * k + offsetM[2],
          ),
        ),
      );
      expect(Math.max(...heights)).toBeCloseTo(job.tank!.tank.levelM - 0.03, 6);
    }
  });

  it('without a tank or a model it says so instead of guessing', () => {
    const { job, grounds } = setUp(cube);
    const none = fieldSetting(chooseTank(job, null), 'p', grounds);
    expect(none.ok ? '' : none.error.code).toBe('no-tank');
    const unread = fieldSetting(job, 'p', {});
    expect(unread.ok ? '' : unread.error.code).toBe('not-measured');
    const typed = newPartWithoutFile('t', 'Bracket', { kind: 'typed', areaM2: 0.01 });
    const area = fieldSetting({ ...job, parts: [typed] }, 't', {});
    expect(area.ok ? '' : area.error.code).toBe('no-model');
  });

  it('takes the published conductivity, or the measured one', () => {
    const { job } = setUp(cube);
    // The row of 20 % at 18 °C is 65.27 S/m; that strength is 228.2 g/L there (1.141 kg/L, handbook density).
    const row = { ...job, bath: { ...job.bath, acidKgPerM3: 228.2, temperatureK: 291.15 } };
    expect(valueOf(bathConductivity(row)).valueSi).toBeCloseTo(65.27, 0);
    const own = valueOf(bathConductivity(changeField(job, { conductivitySPerM: 48 })));
    expect(own.valueSi).toBe(48);
    expect(own.source.standing).toBe('your entry');
  });

  it('the usual tank keeps 150 to 200 mm to its sheets, and the part all clearances', () => {
    for (const [alongM, acrossM, heightM] of [
      [0.2, 0.044, 0.012],
      [0.033, 0.121, 0.4],
    ] as const) {
      const { tank, rules } = usualTank({ alongM, acrossM, heightM, middleM: [0, 0, 0] });
      if (tank.vessel.shape !== 'box') throw new Error('the usual tank is a box');
      const gap = (tank.vessel.widthM - acrossM) / 2 - tank.cathodes[0]!.thicknessM;
      expect(gap).toBeGreaterThan(0.15);
      expect(gap).toBeLessThan(0.2);
      expect(tank.levelM - rules.partToSurfaceM - heightM).toBeGreaterThanOrEqual(rules.partToFloorM - 1e-9);
      expect((tank.vessel.lengthM - alongM) / 2).toBeGreaterThan(rules.partToWallM);
    }
  });

  it('a part without a solution still has its Wagner number: κ · b / l', () => {
    const { job, part, ground } = setUp(cube);
    const { wagner, bores } = valueOf(readBores(job, part, ground));
    expect(bores).toEqual([]);
    const kappa = valueOf(bathConductivity(job)).valueSi;
    // The handbook's cell voltages rise about as j^0.47: b = 0.47 V/j = 0.47 · 14.4/130 V·m²/A, here to a fifth.
    expect(wagner.valueSi / ((kappa * 0.052) / 0.06)).toBeGreaterThan(0.8);
    expect(wagner.valueSi / ((kappa * 0.052) / 0.06)).toBeLessThan(1.2);
  });
});

describe('gas under a tray hung mouth down', () => {
  // The same outside, with the mouth closed by a masked lid: what a pocket full of gas amounts to.
  const isLid = (t: Triangle): boolean => t.every((v, i) => i % 3 !== 2 || v === 20);
  const open = [...boxTriangles(60, 40, 20).filter((t) => !isLid(t)), ...tray().slice(-8)];
  const lid: Triangle[] = [
    [4, 4, 20, 56, 4, 20, 56, 36, 20],
    [4, 4, 20, 56, 36, 20, 4, 36, 20],
  ];
  const attitude = { up: [0, 0, -1] as [number, number, number], turnRad: 0 };
  const spread = (geometry: PartGeometry, change: Partial<Part>): number[] => {
    const { job, ground } = setUp(geometry, { attitude, ...change });
    const { faces, map } = solve(job, ground).reading;
    return faces.map(({ meanM }) => meanM / map.meanM).sort((a, b) => a - b);
  };

  it('leaves the outside as a lid does: that current could pass through the gas moves no face by 0.2 %', () => {
    const mask = [open.length, open.length + lid.length];
    const closed = spread(geometryOf([...open, ...lid]), { coverage: { mask, contact: [], show: [] } });
    const gas = spread(geometryOf(tray()), {});
    // Bottom, four sides and the rim; the inside is dry.
    expect(gas).toHaveLength(6);
    gas.forEach((share, i) => expect(Math.abs(share - closed[i]!)).toBeLessThan(2e-3));
  });
});

describe('a part that stands out of the liquid', () => {
  const tall = geometryOf(boxTriangles(30, 20, 200));
  const partial = (depthMm: number | null) => {
    const plain = setUp(tall);
    const part: Part = {
      ...plain.part,
      surface: { ...plain.part.surface, immersedDepth: depthMm },
    };
    const ground: FieldGround = {
      geometry: tall,
      measure: measurePart(part, tall),
      plugs: null,
      meshKey: 'mesh',
    };
    let job: Job = { ...plain.job, parts: [part] };
    job = chooseTank(
      job,
      usualTank({ alongM: 0.03, acrossM: 0.02, heightM: 0.2, depthM: 0.15, middleM: [0, 0, 0] }),
    );
    return { job, part, ground };
  };

  it('hangs by the level as its own metal raises it, and takes the planned current below it alone', () => {
    const { job, ground } = partial(150);
    const { setting, field, reading } = solve(job, ground);
    const { tank, levelM, copies } = setting.scene;
    // 30 × 20 × 150 mm of metal in the liquid, over the tank's floor.
    const floorM2 = tank.vessel.shape === 'box' ? tank.vessel.lengthM * tank.vessel.widthM : NaN;
    expect(levelM - tank.levelM).toBeCloseTo((0.03 * 0.02 * 0.15) / floorM2, 12);
    expect(copies[0]!.pose.offsetM[2]).toBeCloseTo(levelM - 0.15, 12);
    // Four sides of 150 mm and the bottom: 156 cm².
    expect(setting.plannedCurrentA).toBeCloseTo(0.0156 * DENSITY, 9);
    expect(setting.scene.totalCurrentA).toBeCloseTo(0.0156 * DENSITY, 9);
    expect(reading.map.areaM2).toBeCloseTo(0.0156, 6);
    expect(reading.map.meanM).toBeCloseTo(20e-6, 9);
    // No piece is partly in the liquid, none above takes current, and all below does.
    const { conductingM2, triangleAPerM2 } = field.result.fine.part;
    let above = 0;
    field.source.forEach((_, piece) => {
      const z = [2, 5, 8].map((n) => field.positions[9 * piece + n]!);
      const isAbove = Math.min(...z) >= 150 - 1e-4 && Math.max(...z) > 150 + 1e-4;
      expect(isAbove || Math.max(...z) <= 150 + 1e-4).toBe(true);
      if (isAbove) above++;
      expect(conductingM2[piece]! > 0).toBe(!isAbove);
      expect(triangleAPerM2[piece]! > 0).toBe(!isAbove);
    });
    expect(above).toBeGreaterThan(10);
    // Every piece still belongs to the part's own surface.
    let areaMm2 = 0;
    for (let o = 0; o < field.positions.length; o += 9) {
      const [a, b, c] = [0, 3, 6].map((n) => field.positions.subarray(o + n, o + n + 3));
      const u = [0, 1, 2].map((n) => b![n]! - a![n]!);
      const v = [0, 1, 2].map((n) => c![n]! - a![n]!);
      areaMm2 +=
        Math.hypot(
          u[1]! * v[2]! - u[2]! * v[1]!,
          u[2]! * v[0]! - u[0]! * v[2]!,
          u[0]! * v[1]! - u[1]! * v[0]!,
        ) / 2;
    }
    expect(areaMm2).toBeCloseTo(2 * (30 * 20 + 30 * 200 + 20 * 200), 1);
  });

  it('a copy left at another height is solved at the level all the same', () => {
    const { job, ground } = partial(150);
    const left = setPlacements(job, [
      { id: 'a', partId: 'p', pose: { rotation: [1, 0, 0, 0, 1, 0, 0, 0, 1], offsetM: [-0.015, -0.01, 0] } },
    ]);
    const setting = valueOf(fieldSetting(left, 'p', { p: ground }, 0, { mostCells: CELLS }));
    expect(setting.scene.copies[0]!.pose.offsetM[2]).toBeCloseTo(setting.scene.levelM - 0.15, 12);
  });

  it('in another attitude another part of it is wetted, and the current is for that', () => {
    const { job, ground } = partial(15);
    // On its side, 30 mm upright: 15 mm of four sides and the bottom.
    const attitude = { up: [1, 0, 0] as [number, number, number], turnRad: 0 };
    const setting = valueOf(fieldSetting(job, 'p', { p: ground }, 0, { attitude, mostCells: CELLS }));
    const wettedM2 = 0.015 * 2 * (0.02 + 0.2) + 0.02 * 0.2;
    expect(setting.plannedCurrentA).toBeCloseTo(wettedM2 * DENSITY, 9);
  });
});
