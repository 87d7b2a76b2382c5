import { beforeAll, describe, expect, test } from 'vitest';
import { barRooms } from '../../../core/racking/bar-rooms.ts';
import { distanceBody } from '../../../core/racking/body-distance.ts';
import { hangingSize } from '../../../core/racking/hanging-size.ts';
import { packHangingLoads } from '../../../core/racking/pack-hanging-loads.ts';
import { placeLoad } from '../../../core/racking/place-load.ts';
import { poseVertices, rotationForUp } from '../../../core/racking/pose.ts';
import { checkTank } from '../../../core/racking/tank-clearance.ts';
import { USUAL_TANK_RULES, type Tank } from '../../../core/racking/tank.ts';
import { meshOf, startManifold } from './solids.ts';

let kernel: Awaited<ReturnType<typeof startManifold>>;
beforeAll(async () => {
  kernel = await startManifold();
});

const sheet = {
  id: 'back',
  material: 'aluminium',
  place: { on: 'wall', wall: 'y-', alongM: 0 },
  widthM: 0.7,
  bottomM: 0,
  heightM: 0.5,
  thicknessM: 0.002,
  standoffM: 0.008,
  backWorks: false,
} as const;

const tankWith = (along: 'x' | 'y'): Tank => ({
  name: 'tank',
  vessel: { shape: 'box', lengthM: 0.9, widthM: 0.9, heightM: 0.5 },
  levelM: 0.45,
  cathodes: [sheet, { ...sheet, id: 'front', place: { on: 'wall', wall: 'y+', alongM: 0 } }],
  bars: [{ id: 'bar', along, acrossM: 0, fromM: -0.5, toM: 0.5, heightM: 0.55, role: 'work' }],
});

describe.each(['x', 'y'] as const)('a bar along %s', (along) => {
  test('what was packed hangs with every clearance kept, as the exact distances say', () => {
    const tank = tankWith(along);
    const rooms = barRooms(tank, USUAL_TANK_RULES);
    const plate = meshOf(kernel.Manifold.cube([60, 20, 90], true).translate([300, 5, -40]));
    const rotation = rotationForUp([0.1, 0.05, 1]);
    const size = hangingSize(plate.vertices, 1e-3, rotation, 0);
    const packed = packHangingLoads(
      [{ name: 'plate', quantity: 11, areaM2: 0.014, currentA: 1.8, ...size }],
      { supplyCurrentA: 12, cathodeServesM2: null, bars: rooms, gapM: USUAL_TANK_RULES.partToPartM },
    );
    if (!packed.ok) throw new Error(packed.error.message);
    expect(packed.value.loads).toHaveLength(2);
    const body = distanceBody(plate.vertices, plate.triangles, 1e-3);
    const parts = new Map([['p', { name: 'Plate', body, coatedAreaM2: 0.014 }]]);
    const topM = tank.levelM - USUAL_TANK_RULES.partToSurfaceM;
    for (const load of packed.value.loads) {
      const placements = placeLoad(
        rooms,
        [{ partId: 'p', rotation, size, lowestM: topM - size.heightM }],
        load.pieces,
        USUAL_TANK_RULES.partToPartM,
      );
      expect(placements).toHaveLength(load.pieces[0][0]);
      // Just on the limit in height: give rounding a micrometre.
      const rules = { ...USUAL_TANK_RULES, partToSurfaceM: USUAL_TANK_RULES.partToSurfaceM - 1e-6 };
      const check = checkTank(tank, rules, parts, placements);
      expect(check.findings.filter((finding) => finding.code !== 'cathode-large')).toEqual([]);
      for (const placement of placements) {
        const posed = poseVertices(plate.vertices, 1e-3, placement.pose);
        let high = -Infinity;
        for (let i = 2; i < posed.length; i += 3) high = Math.max(high, posed[i]);
        expect(high).toBeCloseTo(topM, 9);
      }
    }
  });
});

test('size as it hangs: a plate on its edge, with its swing', () => {
  const plate = meshOf(kernel.Manifold.cube([60, 20, 90]));
  const { alongM, acrossM, heightM, middleM } = hangingSize(
    plate.vertices,
    1e-3,
    rotationForUp([0, 0, 1]),
    0.01,
  );
  expect([alongM, acrossM].sort()).toEqual([expect.closeTo(0.04, 9), expect.closeTo(0.08, 9)]);
  expect(heightM).toBeCloseTo(0.09, 9);
  expect(middleM[2]).toBeCloseTo(0.045, 9);
});
