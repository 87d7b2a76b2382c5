/** Where the current goes when plugs stand in the masked bores: judged by solids that never had the bores. */
import type { Manifold } from 'manifold-3d';
import { beforeAll, describe, expect, it } from 'vitest';
import { faceRow } from '../../../core/faces/face-table.ts';
import { solveScene } from '../../../core/field/solve-scene.ts';
import { roundFeatures } from '../../../core/finish/round-features.ts';
import { emptyJob, newPart } from '../../../core/job/default-job.ts';
import { chooseTank } from '../../../core/job/edit-hanging.ts';
import { changeProcess } from '../../../core/job/edit-job.ts';
import { fieldMessages } from '../../../core/job/field-messages.ts';
import { readField } from '../../../core/job/field-reading.ts';
import { fieldSetting, type FieldGround } from '../../../core/job/field-setting.ts';
import type { Job, Part } from '../../../core/job/job.ts';
import { measurePart } from '../../../core/job/measure-part.ts';
import { plugsOf } from '../../../core/job/part-plugs.ts';
import { usualTank } from '../../../core/job/usual-tank.ts';
import { analysePart } from '../../../core/mesh/analyse-part.ts';
import { sourceRunsOfFaces } from '../../../core/mesh/mesh-triangles.ts';
import { soupOf, startManifold } from '../racking/solids.ts';
import { valueOf } from '../value-of.ts';

let kit: Awaited<ReturnType<typeof startManifold>>;
beforeAll(async () => {
  kit = await startManifold();
});

const DENSITY = 130;
const FILM = 20e-6;

/** A solid in mm with every hole's wall masked, and what stands in its floor's level too where asked. */
function solveMasked(
  solid: Manifold,
  { plugged, floorToo = false }: { plugged: boolean; floorToo?: boolean },
) {
  const geometry = analysePart(soupOf(solid), [], { splitAngleRad: 0.6 });
  const rounds = roundFeatures(geometry, 1e-3);
  const rows = new Set(
    rounds
      .filter(({ shape }) => shape === 'hole')
      .flatMap(({ faceIds }) => faceIds.map((id) => faceRow(id)!)),
  );
  const walls = rows.size;
  if (floorToo) {
    const { a, b, turnRad } = geometry.faces.borders;
    a.forEach((one, i) => {
      if (turnRad[i]! < 0 && rows.has(one) !== rows.has(b[i]!)) rows.add(one).add(b[i]!);
    });
  }
  const mask = sourceRunsOfFaces(geometry, rows);
  const coverage = { mask, contact: [], show: [] };
  const part: Part = { ...newPart('p', 'part.stl', 684, 'mm', true), coverage };
  const measure = measurePart(part, geometry);
  const plugs = plugged ? plugsOf(geometry, rounds, measure.flags) : null;
  const ground: FieldGround = { geometry, measure, plugs, meshKey: 'mesh' };
  let job: Job = { ...emptyJob('test'), parts: [part] };
  job = changeProcess(job, { currentDensityAPerM2: DENSITY, thicknessM: FILM });
  job = chooseTank(
    job,
    usualTank({ alongM: 0.06, acrossM: 0.06, heightM: 0.06, middleM: [0.03, 0.03, 0.03] }),
  );
  const setting = valueOf(fieldSetting(job, 'p', { p: ground }, 0, { mostCells: 24 ** 3 }));
  const field = valueOf(solveScene(setting.scene));
  const readAs = (as: Partial<Part>) =>
    readField({ ...job, parts: [{ ...part, ...as }] }, setting, field, ground);
  return { geometry, measure, walls, job, part, field, setting, readAs, reading: readAs({}) };
}

describe('a cube with a plugged blind bore in its side', () => {
  const bored = (depth: number): Manifold =>
    kit.Manifold.cube([60, 60, 60]).subtract(
      kit.Manifold.cylinder(depth + 5, 10, 10, 64)
        .rotate([0, 90, 0])
        .translate([60 - depth, 30, 30]),
    );

  it('is coated as a cube with an insulated spot there, and nothing in the bore is', () => {
    const deep = solveMasked(bored(30), { plugged: true });
    // A recess of a hundredth of a millimetre, wall and floor masked: a spot without current.
    const spot = solveMasked(bored(0.01), { plugged: false, floorToo: true });
    expect([deep.walls, spot.walls]).toEqual([1, 1]);
    const meansOf = ({ reading }: typeof deep): number[] =>
      reading.faces.map(({ meanM }) => meanM / reading.map.meanM).sort((a, b) => a - b);
    // Six sides; of the bore neither wall nor floor.
    expect(deep.reading.faces).toHaveLength(6);
    expect(deep.reading.map.areaM2 / spot.reading.map.areaM2).toBeCloseTo(1, 6);
    meansOf(spot).forEach((share, i) => expect(meansOf(deep)[i]! / share).toBeCloseTo(1, 2));
    // The plan still counts the floor: what it is not coated on goes elsewhere.
    const floorM2 = Math.PI * 0.01 ** 2;
    expect(deep.reading.map.meanM / FILM - 1).toBeCloseTo(floorM2 / deep.reading.map.areaM2, 3);
  });

  it('a thickness asked of the floor behind the plug is not there, which is said', () => {
    const { geometry, reading, readAs, job, part } = solveMasked(bored(30), { plugged: true });
    const coated = new Set(reading.faces.map(({ face }) => face));
    const wall = geometry.faces.kind.indexOf(1);
    const rest = Array.from({ length: geometry.faces.count }, (_, row) => row).filter(
      (row) => !coated.has(row),
    );
    const floor = rest.filter((row) => row !== wall);
    expect(floor).toHaveLength(1);
    const asked: Job = { ...job, field: { ...job.field, leastM: 5e-6 } };
    const said = (rows: readonly number[]) => {
      const now = readAs({ leastFaces: sourceRunsOfFaces(geometry, new Set(rows)) });
      return {
        leastM: now.askedLeastM,
        codes: fieldMessages(asked, part, now, null).map(({ code }) => code),
      };
    };
    expect(said(floor)).toMatchObject({ leastM: 0, codes: expect.arrayContaining(['least-uncoated']) });
    expect(said([...coated]).leastM / reading.map.leastM).toBeCloseTo(1, 6);
    expect(said([...coated]).codes).not.toContain('least-uncoated');
  });

  it('says that it is taken as plugged, and is another map than without', () => {
    const plugged = solveMasked(bored(30), { plugged: true });
    const open = solveMasked(bored(30), { plugged: false });
    expect(plugged.setting.assumed).toContain(
      'The masked bore of “part” is taken as plugged: nothing behind a plug is coated.',
    );
    expect(open.setting.assumed.join()).not.toContain('plugged');
    expect(plugged.setting.key).not.toBe(open.setting.key);
    // Open, acid stands in it and its floor takes some.
    expect(open.reading.faces).toHaveLength(7);
  });

  it('shows every piece under a triangle of the part, in order, the plug’s end under its wall', () => {
    const { geometry, field, measure } = solveMasked(bored(30), { plugged: true });
    const wall = geometry.faces.kind.indexOf(1);
    let ends = 0;
    field.source.forEach((t, piece) => {
      expect(t).toBeLessThan(geometry.triangleCount);
      if (piece > 0) expect(t).toBeGreaterThanOrEqual(field.source[piece - 1]!);
      if (measure.flags[t]! === 0) return;
      ends++;
      expect(geometry.faces.kind[geometry.faces.faceOfTriangle[t]!]).toBe(geometry.faces.kind[wall]!);
      for (const n of [0, 3, 6]) expect(field.positions[9 * piece + n]).toBeCloseTo(60, 4);
    });
    expect(ends).toBeGreaterThan(60);
  });
});

describe('a hollow behind plugs', () => {
  it('gets nothing: all current goes to the outside', () => {
    const box = kit.Manifold.cube([60, 60, 60])
      .subtract(kit.Manifold.cube([54, 54, 54]).translate([3, 3, 3]))
      .subtract(kit.Manifold.cylinder(80, 4, 4, 64).translate([30, 30, -10]));
    const plugged = solveMasked(box, { plugged: true });
    const open = solveMasked(box, { plugged: false });
    // Two discs as 64 chords draw them.
    const discs = 2 * 32 * 0.004 ** 2 * Math.sin((2 * Math.PI) / 64);
    const outsideM2 = 6 * 0.06 ** 2 - discs;
    const insideM2 = 6 * 0.054 ** 2 - discs;
    expect(plugged.reading.map.areaM2 / outsideM2).toBeCloseTo(1, 5);
    expect(open.reading.map.areaM2 / (outsideM2 + insideM2)).toBeCloseTo(1, 5);
    expect(plugged.reading.map.meanM / FILM / (1 + insideM2 / outsideM2)).toBeCloseTo(1, 4);
    expect(plugged.reading.gasM2).toBe(0);
  });
});
