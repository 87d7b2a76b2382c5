import { describe, expect, it } from 'vitest';
import { FIRST_TANKS, firstTank } from '../../../core/job/first-tank.ts';
import { jobTankSchema, tankSchema } from '../../../core/job/job-tank.ts';
import { resizeTank } from '../../../core/job/resize-tank.ts';
import { tankFloorAreaM2 } from '../../../core/racking/cathode-shape.ts';
import { barRooms } from '../../../core/racking/bar-rooms.ts';
import type { Tank } from '../../../core/racking/tank.ts';

describe.each(FIRST_TANKS)('a first tank: %s', (which) => {
  const { tank, rules } = firstTank(which);

  it('is one the job can keep', () => {
    expect(jobTankSchema.parse({ shopTankId: null, tank, rules })).toEqual(firstTank(which));
  });

  it('has two sheets that mirror each other, and a bar that rests on both ends of the vessel', () => {
    expect(tank.cathodes).toHaveLength(2);
    const [one, other] = tank.cathodes.map(({ place }) =>
      place.on === 'round' ? Math.sin(place.angleRad) : place.wall === 'y-' ? -1 : 1,
    );
    expect(one! + other!).toBeCloseTo(0, 12);
    const across = tank.vessel.shape === 'box' ? tank.vessel.lengthM : tank.vessel.diameterM;
    expect(tank.bars[0]!.toM - tank.bars[0]!.fromM).toBeCloseTo(across, 12);
    expect(tank.bars[0]!.heightM).toBeGreaterThan(tank.levelM);
  });
});

describe('a bucket', () => {
  it('holds 20 L at its level, and leaves room between its sheets', () => {
    const { tank, rules } = firstTank('bucket');
    // π · 145² mm² · 299 mm = 19.75 L.
    expect(tankFloorAreaM2(tank) * tank.levelM * 1000).toBeCloseTo(20, 0);
    const [room] = barRooms(tank, rules);
    // 145 mm less 8 mm of sheet and 50 mm kept: 87 mm to all sides, a square of 123 mm.
    expect(room!.acrossM).toBeCloseTo((2 * 0.087) / Math.SQRT2, 6);
  });
});

describe('another size', () => {
  it('fits a plain tank anew, and keeps name, metal and a level that was typed', () => {
    const { tank } = firstTank('box');
    const smaller = { shape: 'box', lengthM: 0.4, widthM: 0.3, heightM: 0.25 } as const;
    const lead: Tank = {
      ...tank,
      name: 'mine',
      cathodes: tank.cathodes.map((sheet) => ({ ...sheet, material: 'lead' })),
    };
    const made = resizeTank(lead, smaller);
    expect(tankSchema.parse(made)).toEqual(made);
    expect(made.name).toBe('mine');
    expect(made.levelM).toBeCloseTo(0.22, 12);
    // 30 mm over the rim, from wall to wall; three quarters of the long wall.
    expect(made.bars[0]).toMatchObject({ fromM: -0.2, toM: 0.2, heightM: 0.28 });
    expect(made.cathodes.map(({ widthM, material }) => [widthM, material])).toEqual([
      [0.3, 'lead'],
      [0.3, 'lead'],
    ]);
    expect(resizeTank({ ...tank, levelM: 0.3 }, { ...smaller, heightM: 0.4 }).levelM).toBe(0.3);
    expect(resizeTank({ ...tank, levelM: 0.3 }, smaller).levelM).toBe(0.25);
    // There and back is where it was.
    expect(resizeTank(resizeTank(tank, smaller), tank.vessel)).toEqual(tank);
  });

  it('leaves what the user has placed, and cuts only what cannot stay', () => {
    const { tank } = firstTank('box');
    const own: Tank = {
      ...tank,
      cathodes: [{ ...tank.cathodes[0]!, widthM: 0.35, place: { on: 'wall', wall: 'y-', alongM: 0.1 } }],
      bars: [
        { ...tank.bars[0]!, acrossM: 0.2, fromM: -0.4, toM: 0.3 },
        { ...tank.bars[0]!, id: 'low', heightM: 0.4 },
      ],
    };
    const wider = resizeTank(own, { shape: 'box', lengthM: 1, widthM: 0.5, heightM: 0.42 });
    expect(wider.cathodes).toEqual(own.cathodes);
    // The end at the wall goes with it, the free one stays.
    expect(wider.bars[0]).toMatchObject({ acrossM: 0.2, fromM: -0.5, toM: 0.3, heightM: 0.45 });
    const small = resizeTank(own, { shape: 'box', lengthM: 0.5, widthM: 0.3, heightM: 0.3 });
    expect(tankSchema.safeParse(small).success).toBe(true);
    expect(small.bars[0]).toMatchObject({ acrossM: 0.15, fromM: -0.25, toM: 0.25 });
    expect(small.bars[0]!.heightM).toBeCloseTo(0.33, 12);
    expect(small.bars[1]!.heightM).toBe(0.4);
    const [sheet] = small.cathodes;
    expect(sheet!.place).toMatchObject({ alongM: expect.closeTo(0.075, 12) as number });
    expect(sheet!.bottomM + sheet!.heightM).toBeLessThanOrEqual(0.3);
    expect(() => resizeTank(own, { shape: 'round', diameterM: 1, heightM: 1 })).toThrow(RangeError);
  });
});
