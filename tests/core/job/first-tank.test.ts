import { describe, expect, it } from 'vitest';
import { firstTank } from '../../../core/job/first-tank.ts';
import { jobTankSchema } from '../../../core/job/job-tank.ts';

describe.each(['box', 'round'] as const)('a first tank: %s', (shape) => {
  const { tank, rules } = firstTank(shape);

  it('is one the job can keep', () => {
    expect(jobTankSchema.parse({ shopTankId: null, tank, rules })).toEqual(firstTank(shape));
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
