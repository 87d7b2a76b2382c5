import { describe, expect, it } from 'vitest';
import { distanceBody } from '../../../core/racking/body-distance.ts';
import { wiresInTank } from '../../../core/racking/hanger-clearance.ts';
import { IDENTITY_ROTATION } from '../../../core/racking/pose.ts';
import { checkTank, type TankPart } from '../../../core/racking/tank-clearance.ts';
import { USUAL_TANK_RULES, type BusBar, type Placement, type Tank } from '../../../core/racking/tank.ts';
import { meshOf, startManifold } from './solids.ts';

const { Manifold } = await startManifold();
const cube = meshOf(Manifold.cube([100, 100, 100], true));
const bar: BusBar = { id: 'work', along: 'x', acrossM: 0, fromM: -0.4, toM: 0.4, heightM: 0.5, role: 'work' };
const tank: Tank = {
  name: 'tank',
  vessel: { shape: 'box', lengthM: 1, widthM: 0.6, heightM: 0.6 },
  levelM: 0.4,
  // A sheet that stands up past the level, as a bare hanger would meet it.
  cathodes: [
    {
      id: 'back',
      material: 'steel',
      place: { on: 'wall', wall: 'y+', alongM: 0 },
      widthM: 0.9,
      bottomM: 0.3,
      heightM: 0.25,
      thicknessM: 0.002,
      standoffM: 0.008,
      backWorks: false,
    },
  ],
  bars: [bar],
};
/** Cube of 100 mm, its hanger 2 mm thick at the middle of its top, `aside` towards the sheet. */
const parts = (aside: number): ReadonlyMap<string, TankPart> =>
  new Map([
    [
      'cube',
      {
        name: 'Cube',
        body: distanceBody(cube.vertices, cube.triangles, 1e-3),
        coatedAreaM2: 0.06,
        wires: [{ at: [0, aside, 0.05], diameterM: 0.002 }],
      },
    ],
  ]);
const at = (id: string, x: number, y: number): Placement => ({
  id,
  partId: 'cube',
  pose: { rotation: IDENTITY_ROTATION, offsetM: [x, y, 0.2] },
});
const codes = (placed: Tank, wires: ReadonlyMap<string, TankPart>, ...placements: Placement[]): string[] =>
  checkTank(placed, USUAL_TANK_RULES, wires, placements).findings.map(({ code }) => code);

describe('hangers and bars', () => {
  it('run straight up from the contact to the bar', () => {
    expect(wiresInTank(tank, parts(0), [at('a', 0.1, 0.05)])).toEqual([
      { placementId: 'a', from: [0.1, 0.05, 0.25], to: [0.1, 0.05, 0.5], diameterM: 0.002 },
    ]);
    expect(wiresInTank({ ...tank, bars: [] }, parts(0), [at('a', 0, 0)])).toEqual([]);
  });

  // Front of the sheet at y = 300 − 10 = 290 mm; a wire of 2 mm at y has 290 − y − 1 left.
  it.each([
    [0.24, 'clear', 0.049],
    [0.275, 'near', 0.014],
    [0.289, 'shorts', 0],
  ])('a wire at y %s m is %s', (y, verdict) => {
    const found = codes(tank, parts(0.1), at('a', 0, y - 0.1));
    expect(found.includes('hanger-near-cathode')).toBe(verdict === 'near');
    expect(found.includes('hanger-shorts')).toBe(verdict === 'shorts');
  });

  it('a cathode bar in the way of a wire shorts it', () => {
    const minus: BusBar = { ...bar, id: 'minus', acrossM: 0.1, heightM: 0.45, role: 'cathode' };
    const crossed = { ...tank, bars: [bar, minus] };
    // The bar is 20 mm wide: from 90 to 110 mm.
    expect(codes(crossed, parts(0), at('a', 0, 0.095))).toContain('bar-shorts');
    expect(codes(crossed, parts(0), at('a', 0, 0.05))).not.toContain('bar-shorts');
  });

  it('a wire that runs along the next part is said', () => {
    // The upper cube stands in the way of the lower one's hanger.
    const upper: Placement = {
      id: 'b',
      partId: 'cube',
      pose: { rotation: IDENTITY_ROTATION, offsetM: [0.02, 0, 0.33] },
    };
    expect(codes(tank, parts(0), at('a', 0, 0), upper)).toContain('hanger-touches-part');
    expect(
      codes(tank, parts(0), at('a', 0, 0), { ...upper, pose: { ...upper.pose, offsetM: [0.2, 0, 0.33] } }),
    ).not.toContain('hanger-touches-part');
  });
});
